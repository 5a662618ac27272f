"""Several pictures of one page: which of them says how the page stands."""

import pytest

from board.actions.alternates import choose_alternate
from board.actions.boards import change_board
from board.actions.notes import pin_note
from board.actions.panels import add_panel, correct_panels
from board.actions.revisions import restore_revision, withdraw_revision
from board.actions.stage_moves import move_page
from board.models import Job, NotePlace, Panel, PanelShape, Revision
from tests.flow.conftest import THREE_PANELS, TWO_TIERS
from tests.flow.test_upload_to_notes import measured, off_by, perspective_says

__all__ = ["perspective_says"]
ONE_BIG = [(0.06, 0.05, 0.94, 0.95)]


def standing(page) -> list[Panel]:
    return list(Panel.objects.filter(page=page, is_gone=False).order_by("order"))


def test_another_try_with_other_panels_leaves_the_pages_panels_alone_until_it_is_chosen(page, upload, work, owner):
    work(upload(page, TWO_TIERS))
    before = standing(page)
    work(upload(page, THREE_PANELS, alternate="B", seed=3))
    assert standing(page) == before
    choose_alternate(seat=owner, subject=page, alternate="B", expected_version=None)
    work()
    assert len(standing(page)) == 3


def test_what_is_found_on_another_try_is_no_note_until_it_is_chosen(page, upload, work, owner, perspective_says):
    perspective_says(off_by(6.0))
    work(upload(page))
    perspective_says(off_by(9.0, at=0.7))
    work(upload(page, alternate="B", seed=3))
    assert [(note.body, note.state) for note in measured(page)] == [("An edge is off by 6.0°.", "open")]
    page = choose_alternate(seat=owner, subject=page, alternate="B", expected_version=None)
    work()
    assert [(note.body, note.state) for note in measured(page)] == [
        ("An edge is off by 6.0°.", "gone"), ("An edge is off by 9.0°.", "open"),
    ]


def test_a_picture_ahead_of_its_stage_counts_from_the_sign_off_on(page, upload, work, owner, perspective_says):
    perspective_says(off_by(6.0))
    work(upload(page))
    perspective_says(off_by(9.0, at=0.7))
    work(upload(page, stage="pencil"))
    assert [note.state for note in measured(page)] == ["open"]
    move_page(seat=owner, page=page, move="sign-off", expected_version=None)
    work()
    assert [note.state for note in measured(page)] == ["gone", "open"]


def test_written_panels_are_met_by_number_when_fewer_are_drawn(page, upload, work, owner):
    written = [add_panel(seat=owner, page=page, happens=f"Beat {n}.") for n in (1, 2, 3)]
    revision = upload(page, TWO_TIERS)
    work()
    assert [shape.panel_id for shape in PanelShape.objects.filter(revision=revision)] == [written[0].pk, written[1].pk]


def test_a_page_laid_out_anew_keeps_its_panels_in_their_order(page, upload, work, owner):
    written = [add_panel(seat=owner, page=page, happens=f"Beat {n}.") for n in (1, 2)]
    work(upload(page, ONE_BIG))
    second = upload(page, [(0.06, 0.05, 0.94, 0.25), (0.06, 0.30, 0.94, 0.95)], seed=2)
    work()
    assert {shape.panel_id for shape in PanelShape.objects.filter(revision=second)} == {panel.pk for panel in written}


def test_panels_and_notes_go_on_from_the_same_alternate(page, upload, work, owner):
    first = upload(page, TWO_TIERS)
    work()
    before = standing(page)
    note = pin_note(seat=owner, page=page, region={"point": [0.5, 0.26]}, body="Closer.", tone="try", revision=first)
    work(upload(page, THREE_PANELS, alternate="B", seed=3))
    third = upload(page, TWO_TIERS)
    work()
    assert standing(page) == before
    assert NotePlace.objects.get(note=note, revision=third).placed_by == "registered"
    assert Job.objects.get(revision=third, kind="carry-notes").inputs["before"] == first.pk


def test_panels_by_hand_are_the_pages_again_once_their_picture_is(page, upload, work, owner):
    change_board(seat=owner, checks=["panels"])
    first = upload(page, THREE_PANELS, stage="pencil")
    work()
    outlines = [{"id": shape.panel_id, "polygon": shape.polygon} for shape in PanelShape.objects.filter(revision=first)]
    correct_panels(seat=owner, revision=first, panels=[outlines[0], outlines[2], outlines[1]])
    by_hand = standing(page)
    second = upload(page, TWO_TIERS, stage="pencil")
    upload(page, TWO_TIERS, stage="pencil", alternate="B")
    upload(page, TWO_TIERS, stage="final")
    work()
    assert len(standing(page)) == 2
    withdraw_revision(seat=owner, revision=Revision.objects.get(pk=second.pk))
    assert standing(page) == by_hand
    for move, panels in (
        (lambda: choose_alternate(seat=owner, subject=page, alternate="B", expected_version=None), 2),
        (lambda: choose_alternate(seat=owner, subject=page, alternate="A", expected_version=None), 3),
        (lambda: move_page(seat=owner, page=page, move="sign-off", expected_version=None), 2),
        (lambda: move_page(seat=owner, page=page, move="send-back", to_stage="pencil", expected_version=None), 3),
    ):
        work()
        move()
        assert len(standing(page)) == panels
    assert standing(page) == by_hand


def test_what_came_after_a_withdrawn_picture_comes_after_the_one_before_it(page, upload, work, owner):
    """The second picture is an empty sheet; two more come before anybody sees that. A note is pinned while it is away."""
    change_board(seat=owner, checks=["panels"])
    small = [tuple(0.5 + 0.9 * (v - 0.5) for v in frame) for frame in THREE_PANELS]
    first = upload(page, THREE_PANELS)
    work()
    first.refresh_from_db()
    wrong, third, fourth = upload(page, []), upload(page, small), upload(page, small)
    pins = [pin_note(seat=owner, page=page, region={"point": [0.7, 0.7]}, body="Closer.", tone="must", revision=first)]
    work()
    wrong.refresh_from_db()
    withdraw_revision(seat=owner, revision=wrong)
    pins.append(pin_note(seat=owner, page=page, region={"point": [0.7, 0.7]}, body="Later.", tone="must", revision=first))
    work()
    assert comes_after(third, fourth) == [first.pk, third.pk]
    for place in NotePlace.objects.filter(note__in=pins, revision__in=(third, fourth)):
        assert place.region["point"] == pytest.approx([0.68, 0.68], abs=0.005)
    restore_revision(seat=owner, revision=wrong)
    work()
    assert comes_after(third, fourth) == [wrong.pk, third.pk]
    assert NotePlace.objects.filter(note__in=pins, revision=wrong).count() == 2


def comes_after(*revisions) -> list[int]:
    return [Job.objects.get(revision=revision, kind="carry-notes").numbers["before"] for revision in revisions]
