"""A comic taken along: the pages in order, byte for byte, and nothing that one does not see."""

import asyncio
import json
from datetime import datetime
from io import BytesIO
from zipfile import ZipFile

import pytest

from api.zip_answers import _in_threads
from board.actions.alternates import choose_alternate
from board.actions.page_order import lay_aside
from board.actions.pages import add_page
from board.models import Panel, Revision
from board.picture_files import drop_file, open_file
from board.zipped_files import ZipEntry, zipped
from tests.api.world import ready_revision


def zip_of(cast, client) -> ZipFile:
    answer = client.get(f"/api/v1/boards/{cast.board.pk}/drawings")
    assert (answer.status_code, answer["Content-Type"]) == (200, "application/zip")
    assert answer["Content-Disposition"] == 'attachment; filename="the-tide-mill.zip"'
    return ZipFile(BytesIO(b"".join(answer.streaming_content)))


@pytest.fixture
def drawn(cast) -> list[Revision]:
    """Page 1, the student's page 2, and a spread 3-4."""
    spread = add_page(seat=cast.seat("owner"), number=3, is_spread=True)
    return [ready_revision(cast, cast.page, shade=60), ready_revision(cast, cast.own_page, "student", shade=90),
            ready_revision(cast, spread, shade=120)]


def test_each_page_is_there_byte_for_byte(cast, client_of, drawn):
    archive = zip_of(cast, client_of("reader"))
    assert archive.testzip() is None
    names = [f"page-001-{drawn[0].stage}.png", f"page-002-{drawn[1].stage}.png", f"page-003-004-{drawn[2].stage}.png"]
    assert archive.namelist() == ["comic.json", "script.txt", *names]
    for name, revision in zip(names, drawn, strict=True):
        with open_file(revision.picture.file_name) as file:
            assert archive.read(name) == file.read()


def test_what_the_pages_are_is_told(cast, client_of, drawn):
    Panel.objects.create(page=cast.page, order=1, said="MARA: Wait!", is_gone=True)
    Panel.objects.create(page=cast.page, order=1, happens="She turns.", said="MARA: No.")
    add_page(seat=cast.seat("owner"), number=9)
    facts = json.loads(zip_of(cast, client_of("reader")).read("comic.json"))
    assert (facts["title"], facts["reading"], facts["trim_mm"]) == ("The tide mill", "ltr", [148.0, 210.0])
    assert (facts["is_bound"], facts["bleed_mm"], facts["live_area_mm"]) == (True, 3.0, 8.0)
    assert [page["numbers"] for page in facts["pages"] if page["file"]] == [[1], [2], [3, 4]]
    assert facts["pages"][3]["numbers"] == [9]
    # What was written is never left out, where the newest picture has no panel for it either.
    assert facts["pages"][0]["panels"] == [
        {"order": 1, "happens": "She turns.", "said": "MARA: No.", "is_gone": False, "chosen": None},
        {"order": 1, "happens": "", "said": "MARA: Wait!", "is_gone": True, "chosen": None},
    ]
    assert facts["pages"][0]["sha256"] == drawn[0].picture.sha256


def test_the_try_that_is_chosen_at_a_panel_is_beside_its_page(cast, client_of, drawn):
    panel = Panel.objects.create(page=cast.page, order=3)
    shades = ((70, "B"), (80, "B"), (75, "C"))
    tries = [ready_revision(cast, cast.page, shade=shade, panel=panel, alternate=letter) for shade, letter in shades]
    page = f"page-001-{drawn[0].stage}.png"
    assert [name for name in zip_of(cast, client_of("reader")).namelist() if "001" in name] == [page]
    choose_alternate(seat=cast.seat("owner"), subject=panel, alternate="B", expected_version=None)
    archive = zip_of(cast, client_of("reader"))
    name = f"page-001-panel-3-b-{tries[1].stage}.png"
    assert archive.namelist()[2:4] == [page, name]
    with open_file(tries[1].picture.file_name) as file:
        assert archive.read(name) == file.read()
    chosen = json.loads(archive.read("comic.json"))["pages"][0]["panels"][0]["chosen"]
    assert chosen == {"alternate": "B", "file": name, "uploaded_as": tries[1].file_name, "sha256": tries[1].picture.sha256}


def test_a_student_takes_along_what_is_theirs(cast, client_of, drawn):
    archive = zip_of(cast, client_of("student"))
    assert archive.namelist() == ["comic.json", "script.txt", f"page-002-{drawn[1].stage}.png"]
    assert [page["numbers"] for page in json.loads(archive.read("comic.json"))["pages"]] == [[2]]


def test_what_is_laid_aside_or_lost_is_not_there(cast, client_of, drawn):
    lay_aside(seat=cast.seat("owner"), page=cast.page, expected_version=None)
    drop_file(drawn[2].picture.file_name)
    assert zip_of(cast, client_of("editor")).namelist() == ["comic.json", "script.txt", f"page-001-{drawn[1].stage}.png"]


def test_each_file_is_of_the_day_it_was_uploaded_on(cast, client_of, drawn):
    Revision.objects.filter(pk=drawn[0].pk).update(uploaded_at=datetime(2025, 3, 14, 9, 26, 53).astimezone())
    dates = {one.filename: one.date_time for one in zip_of(cast, client_of("reader")).infolist()}
    assert dates[f"page-001-{drawn[0].stage}.png"] == (2025, 3, 14, 9, 26, 52)  # a zip counts in steps of two seconds
    assert all(date[0] >= 2025 for date in dates.values())


def test_it_is_sent_while_it_is_written(cast, drawn):
    entries = [ZipEntry("words.txt", b"tide"), ZipEntry("page.png", kept=drawn[0].picture.file_name)]

    async def gather() -> list[bytes]:
        return [chunk async for chunk in _in_threads(zipped(entries))]

    chunks = asyncio.run(gather())
    assert len(chunks) > 3 and ZipFile(BytesIO(b"".join(chunks))).read("words.txt") == b"tide"
