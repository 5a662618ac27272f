"""What is kept under a hash is whole, whatever cut off the writing."""

import errno
import os
from io import BytesIO
from pathlib import Path

import pytest
from django.core.files import File
from django.core.files.storage import default_storage

from board.file_storage import UNFINISHED, WholeFileStorage, drop_cut_off
from board.picture_files import keep_file, open_file
from tests.pictures import png, upload

NOISE = os.urandom(600_000)


class FullDisk(File):
    def chunks(self, chunk_size=None):
        yield NOISE[:chunk_size]
        raise OSError(errno.ENOSPC, "No space left on device")


def files_in(folder: Path) -> list[str]:
    return [path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()]


def test_what_is_cut_off_while_it_is_written_leaves_nothing(tmp_path):
    storage = WholeFileStorage(str(tmp_path))
    with pytest.raises(OSError, match="No space"):
        storage.save("pictures/ab/abc", FullDisk(BytesIO()))
    assert files_in(tmp_path) == []
    storage.save("pictures/ab/abc", File(BytesIO(NOISE)))
    assert files_in(tmp_path) == ["pictures/ab/abc"] and (tmp_path / "pictures/ab/abc").read_bytes() == NOISE


def test_where_half_a_file_lies_the_whole_one_takes_its_place(tmp_path, settings):
    settings.STORAGES = {**settings.STORAGES, "default": {**settings.STORAGES["default"], "OPTIONS": {"location": str(tmp_path)}}}
    default_storage.save("pictures/ab/abc", File(BytesIO(NOISE[:1000])))
    keep_file("pictures/ab/abc", BytesIO(NOISE))
    assert open_file("pictures/ab/abc").read() == NOISE and files_in(tmp_path) == ["pictures/ab/abc"]
    written = (tmp_path / "pictures/ab/abc").stat().st_mtime_ns
    keep_file("pictures/ab/abc", BytesIO(NOISE))
    assert (tmp_path / "pictures/ab/abc").stat().st_mtime_ns == written  # once is enough


def test_what_a_killed_process_left_is_dropped_and_what_is_being_written_stays(tmp_path):
    folder = tmp_path / UNFINISHED
    folder.mkdir()
    for name, seconds in [("left", 7200), ("new", 60)]:
        (folder / name).write_bytes(b"half")
        os.utime(folder / name, (folder.stat().st_mtime - seconds,) * 2)
    drop_cut_off(folder, older_than_seconds=3600)
    assert files_in(folder) == ["new"]


def test_an_upload_that_a_full_disk_cut_off_is_taken_whole_when_it_is_sent_again(cast, client_of, monkeypatch):
    client, url, data = client_of("artist"), f"/api/v1/pages/{cast.page.pk}/revisions", png(shade=31)
    with monkeypatch.context() as full:
        full.setattr("board.picture_files.File", FullDisk)
        answer = client.post(url, {"image": upload(data), "stage": "thumbnail"}, format="multipart")
        assert answer.status_code == 507 and "no room left on the server's disk" in answer.json()["detail"]
    row = client.post(url, {"image": upload(data), "stage": "thumbnail"}, format="multipart").json()
    assert b"".join(client.get(row["file"]).streaming_content) == data
