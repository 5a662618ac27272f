"""No upload loses its file to a deletion at the same moment, and what broke off leaves nothing behind for good."""

import os
from datetime import timedelta
from io import BytesIO
from pathlib import Path

import pytest
from django.conf import settings
from django.utils import timezone

from board.actions import pictures
from board.actions.left_over_files import OLD, drop_left_over
from board.actions.page_order import lay_aside
from board.actions.pictures import kept_picture
from board.actions.unused_files import drop_picture_if_unused, drop_underlay_files
from board.models import Picture, Underlay
from board.picture_files import file_is_kept, keep_file
from tests.pictures import png, upload

ORPHAN = "ab" * 32


def send(client, page, data: bytes):
    return client.post(f"/api/v1/pages/{page.pk}/revisions", {"image": upload(data), "stage": "thumbnail"}, format="multipart")


def file_of(row: dict, client) -> bytes:
    return b"".join(client.get(row["file"]).streaming_content)


def files() -> set[str]:
    folder = Path(settings.STORAGES["default"]["OPTIONS"]["location"])
    return {path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()}


def lay(name: str, age: timedelta = OLD + timedelta(hours=1)) -> str:
    keep_file(name, BytesIO(b"left"))
    path = Path(settings.STORAGES["default"]["OPTIONS"]["location"]) / name
    then = (timezone.now() - age).timestamp()
    os.utime(path, (then, then))
    return name


def test_an_upload_while_the_same_bytes_are_dropped_keeps_its_file(cast, client_of, monkeypatch):
    data, client = png(shade=71), client_of("artist")
    with kept_picture(file=BytesIO(data)) as unused:
        pass
    kept, dropped = pictures.keep_file, []

    def keep_and_lose(name, file):
        kept(name, file)
        if not dropped:
            dropped.append(drop_picture_if_unused(unused.sha256))

    monkeypatch.setattr(pictures, "keep_file", keep_and_lose)
    row = send(client, cast.page, data).json()
    assert dropped == [True] and file_of(row, client) == data


def test_what_a_row_shows_is_not_dropped(cast, client_of):
    row = send(client_of("artist"), cast.page, png(shade=72)).json()
    assert not drop_picture_if_unused(Picture.objects.get(revisions=row["id"]).sha256)
    assert file_of(row, client_of("artist")) == png(shade=72)


def test_a_refused_upload_is_not_kept(cast, client_of):
    lay_aside(seat=cast.seat("editor"), page=cast.page, expected_version=None)
    assert send(client_of("artist"), cast.page, png(shade=73)).status_code == 409
    assert not Picture.objects.exists() and files() == set()


def test_underlays_that_two_boards_share_stay_with_the_second(world, django_capture_on_commit_callbacks):
    one = world.artists.underlay
    rows = Underlay.objects.filter(pk=one.pk)
    twin = Underlay.objects.create(board=one.board, revision=world.students.revision, digest=one.digest, files=one.files)
    for keeps in (True, False):
        with django_capture_on_commit_callbacks(execute=True):
            drop_underlay_files(rows)
            Underlay.objects.filter(pk=one.pk).delete()
        assert all(file_is_kept(name) == keeps for name in one.files.values())
        rows, one = Underlay.objects.filter(pk=twin.pk), twin


@pytest.fixture
def old(world):
    """The newest picture is a day old; what lies here since before `OLD` is past keeping."""
    Picture.objects.update(created_at=timezone.now() - timedelta(days=30))
    Picture.objects.filter(revisions=world.artists.revision).update(created_at=timezone.now())
    return world


def test_files_that_no_row_names_go_when_they_are_old(old):
    rows = files()
    left = [f"pictures/ab/{ORPHAN}", f"renditions/ab/{ORPHAN}-400.webp", f"renditions/cd/{'cd' * 32}-400.webp",
            f"underlays/ab/{ORPHAN}.svg", f"review-sheets/7-{ORPHAN[:32]}.pdf"]
    for name in left:
        lay(name)
    stays = {lay(f"pictures/ef/{'ef' * 32}", OLD - timedelta(hours=1)), lay("pictures/README.txt"), lay("elsewhere/1.pdf")}
    taken = Picture.objects.filter(revisions__isnull=False).first()
    stays.add(lay(f"renditions/{taken.sha256[:2]}/{taken.sha256}-2400.webp"))  # a job writes it before its row
    assert drop_left_over() == len(left)
    assert files() == rows | stays and not Picture.objects.filter(sha256=ORPHAN).exists()


def test_pictures_that_nothing_shows_go_when_they_are_old(old):
    with kept_picture(file=BytesIO(png(shade=74))) as left, kept_picture(file=BytesIO(png(shade=75))) as new:
        pass
    rows = files() - {left.file_name}
    Picture.objects.filter(pk=left.pk).update(created_at=timezone.now() - OLD - timedelta(hours=1))
    drop_left_over()
    assert files() == rows and Picture.objects.filter(pk=new.pk).exists() and not Picture.objects.filter(pk=left.pk).exists()


def test_another_databases_files_are_left_alone(old):
    left = {lay(f"pictures/{number:02x}/{number:064x}") for number in range(len(files()) + 1)}
    assert drop_left_over() == 0 and left <= files()


def test_a_database_that_knows_no_picture_drops_none(db):
    left = lay(f"pictures/ab/{ORPHAN}")
    assert drop_left_over() == 0 and file_is_kept(left)
