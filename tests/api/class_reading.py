"""All that one student can read, byte for byte: every address that is theirs, with its headers, and what is in their export."""

import io
import re
import zipfile
from collections.abc import Iterable, Iterator
from typing import Any

from django.db import connection
from django.db.models import Model

from board.models import Critique, HandIn, Job, Member, Note, Page, Revision
from tests.api.class_world import ClassWorld

API = "/api/v1"
SIZES = (400, 1200, 2400)


def spread_numbers() -> None:
    """From here on each table counts from a number of its own, so that the number of a row is found wherever it is told."""
    with connection.cursor() as cursor:
        for place, table in enumerate(sorted(connection.introspection.table_names())):
            first = 500_000 + 1_000 * place
            if connection.vendor == "postgresql":
                for sequence in connection.introspection.get_sequences(cursor, table):
                    cursor.execute("SELECT setval(%s, %s)", [sequence["name"], first])
                continue
            cursor.execute("DELETE FROM sqlite_sequence WHERE name = %s", [table])
            cursor.execute("INSERT INTO sqlite_sequence (name, seq) VALUES (%s, %s)", [table, first])


def addresses_of(world: ClassWorld, name: str) -> Iterator[str]:
    work, place, one_class = world.works[name], world.enrolment(name), world.school_class
    assignment, board = f"{API}/assignments/{world.assignment.pk}", f"{API}/boards/{work.board_id}"
    yield from (f"{API}/{noun}" for noun in ("me", "boards", "classes"))
    yield f"{API}/classes/{one_class.pk}"
    yield from (f"{API}/classes/{one_class.pk}/{noun}" for noun in ("enrolments", "assignments"))
    yield from (f"{API}/enrolments/{place.pk}{part}" for part in ("", "/progress", "/export", "/deletion"))
    yield from (assignment, f"{assignment}/opened-pages", f"{assignment}/critiques")
    yield from (f"{API}/works/{work.pk}{part}" for part in ("", "/hand-ins", "/extensions"))
    yield from (f"{API}/hand-ins/{row.pk}" for row in HandIn.objects.filter(work=work))
    yield board
    yield from (f"{board}/{noun}" for noun in
                ("members", "pages", "notes", "events?after=0", "jobs", "sheets", "references", "characters"))
    yield from (f"{API}/notes/{note.pk}{part}" for note in Note.objects.filter(board=work.board) for part in ("", "/replies"))
    for page in Page.objects.filter(board=work.board):
        yield from (f"{API}/pages/{page.pk}{part}" for part in
                    ("", "/notes", "/revisions", "/revisions-in-brief", "/panels", "/stage-moves"))
    for revision in Revision.objects.filter(page__board=work.board):
        yield from (f"{API}/revisions/{revision.pk}{part}" for part in
                    ("", "/file", "/renditions/400", "/jobs", "/registration", "/figures", "/figure-proposals"))
    for critique in Critique.objects.filter(round__assignment=world.assignment):
        pages = [f"/pages/{one['page']}/renditions/{size}" for one in critique.pages for size in SIZES]
        yield from (f"{API}/critiques/{critique.pk}{part}" for part in ("", *pages))  # those of others answer 404
        yield f"/critiques/{critique.pk}"
    yield from (f"/{noun}" for noun in ("boards", "classes", f"classes/{one_class.pk}", f"assignments/{world.assignment.pk}"))


def everything_read_by(world: ClassWorld, name: str) -> bytes:
    client = world.client(name)
    return b"\n".join(_whole(client.get(address)) for address in addresses_of(world, name))


def _whole(response: Any) -> bytes:
    body = b"".join(response.streaming_content) if response.streaming else response.content
    if response["Content-Type"] == "application/zip":
        with zipfile.ZipFile(io.BytesIO(body)) as archive:
            body = b"\n".join(part for entry in archive.infolist() for part in (repr(entry).encode(), archive.read(entry)))
    return b"\n".join([*(f"{key}: {value}".encode() for key, value in response.items() if key != "Allow"), body])


def identifiers_of(world: ClassWorld, name: str) -> dict[str, str]:
    """What it is -> its text. Numbers are those of the person and of all rows that are theirs alone."""
    user, work, place = world.people[name], world.works[name], world.enrolment(name)
    told = {"username and file names": name, "first name": user.first_name, "alias": place.alias}
    revisions = list(Revision.objects.filter(page__board=work.board).select_related("picture"))
    rows: Iterable[Model] = [
        user, place, work, work.board, *Member.objects.filter(board=work.board), *Page.objects.filter(board=work.board), *revisions,
        *(one.picture for one in revisions), *HandIn.objects.filter(work=work), *Job.objects.filter(board=work.board),
    ]
    told |= {f"number of {type(row).__name__} {row.pk}": str(row.pk) for row in rows}
    moments = [*(one.uploaded_at for one in revisions), *(one.handed_in_at for one in HandIn.objects.filter(work=work)),
               *(one.sent_at for one in Critique.objects.filter(critic=place, sent_at__isnull=False)), place.enrolled_at]
    told |= {f"time {moment}": moment.strftime("%H:%M:%S.%f") for moment in moments}
    return told | {f"digest {one.pk}": one.picture.sha256 for one in revisions}


def slips(read: bytes, identifiers: dict[str, str]) -> list[str]:
    """Which of the identifiers stand in what was read, in any writing."""
    text = read.decode("latin-1").lower()
    return [
        what for what, value in identifiers.items()
        if (re.search(rf"(?<!\d){value}(?!\d)", text) if value.isdigit() else value.lower() in text)
    ]
