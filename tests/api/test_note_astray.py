"""Notes that lie on a picture, or in a panel, that is not there on the page's picture of now."""

import pytest

from board.actions.alternates import choose_alternate
from board.actions.notes import pin_note
from board.actions.panels import record_panels
from board.actions.revisions import withdraw_revision
from board.models import Revision
from tests.api.world import SQUARE, ready_revision

SMALL = [[0.6, 0.6], [0.9, 0.6], [0.9, 0.9], [0.6, 0.9]]


@pytest.fixture(autouse=True)
def nothing_is_sent(monkeypatch):
    monkeypatch.setattr("board.actions.jobs.send_job", lambda **_: True)


def drawn(world, polygon=SQUARE, **more) -> Revision:
    revision = ready_revision(world.cast, world.cast.page, **more)
    record_panels(revision=revision, found=[{"polygon": polygon, "framed": True}])
    return revision


def astray(client, note) -> dict | None:
    return client.get(f"/api/v1/notes/{note.pk}").json()["astray"]


def pinned_on(world, revision: Revision):
    editor = world.cast.seat("editor")
    return pin_note(seat=editor, page=world.cast.page, body="Here.", tone="try", region={"point": [0.5, 0.5]}, revision=revision)


def test_a_note_on_the_picture_of_now_or_on_its_way_there_is_not_astray(world, client_of):
    assert astray(client_of("editor"), world.artists.note) is None
    drawn(world, shade=90)
    assert astray(client_of("editor"), world.artists.note) is None


def test_a_note_on_another_alternate_says_on_which(world, client_of):
    try_b = drawn(world, shade=90, alternate="B")
    note = pinned_on(world, try_b)
    told = {"why": "picture", "revision": try_b.number, "alternate": "B", "is_withdrawn": False}
    assert astray(client_of("editor"), note) == told
    choose_alternate(seat=world.cast.seat("artist"), subject=world.cast.page, alternate="B", expected_version=None)
    assert astray(client_of("editor"), note) is None


def test_a_note_on_a_withdrawn_revision_is_on_no_picture_after_it(world, client_of):
    second = drawn(world, shade=90)
    note = pinned_on(world, second)
    withdraw_revision(seat=world.cast.seat("artist"), revision=second)
    assert astray(client_of("editor"), note) == {"why": "picture", "revision": 2, "alternate": None, "is_withdrawn": True}
    drawn(world, shade=91)
    assert astray(client_of("editor"), note)["why"] == "picture"


def test_a_note_whose_panel_is_not_found_again_says_so(world, client_of):
    record_panels(revision=ready_revision(world.cast, world.cast.page, shade=90), found=[])
    assert astray(client_of("editor"), world.artists.note) is None
    third = drawn(world, SMALL, shade=91)
    assert not third.shapes.filter(panel=world.artists.panel).exists()
    assert astray(client_of("editor"), world.artists.note)["why"] == "panel"
