"""When a page or a panel may move."""

from dataclasses import replace

import pytest

from board.stages.move_rules import MoveFacts, refusal_of, stage_that_moves
from board.stages.order import stage_after, stage_by_pictures, stage_on_its_own, stages_up_to

EDITOR = MoveFacts(
    stage="pencil", roles=frozenset({"editor"}), draws_this_page=False, is_handed_in=True, drawn_stages=frozenset({"pencil"})
)
ARTIST = MoveFacts(stage="pencil", roles=frozenset({"artist"}), drawn_stages=frozenset({"pencil"}))
ALONE = replace(ARTIST, roles=frozenset({"artist", "editor"}))
PANEL = replace(EDITOR, is_panel=True, panel_is_sent_back=True, is_handed_in=False)


def code(move: str, facts: MoveFacts) -> str | None:
    refusal = refusal_of(move, facts)
    return refusal.code if refusal else None


def test_stages_run_from_thumbnail_to_final():
    assert [stage_after(stage) for stage in ("thumbnail", "pencil", "final")] == ["pencil", "final", None]
    assert stages_up_to("pencil") == ("thumbnail", "pencil")


def test_an_editor_signs_off_what_was_handed_in():
    assert code("sign-off", EDITOR) is None


def test_who_draws_and_edits_signs_off_in_one_click():
    assert code("sign-off", ALONE) is None
    assert code("hand-in", ALONE) is None


@pytest.mark.parametrize(
    ("change", "expected"),
    [
        ({"is_handed_in": False}, "not-handed-in"),
        ({"open_must_notes": 1}, "open-must-notes"),
        ({"running_checks": 1}, "checks-running"),
        ({"drawn_stages": frozenset({"thumbnail"})}, "no-revision"),
        ({"panels_sent_back": 2}, "panels-sent-back"),
        ({"is_finished": True}, "finished"),
        ({"is_laid_aside": True}, "laid-aside"),
        ({"is_of_another_picture": True, "revision_number": 3, "running_checks": 1}, "another-picture"),
        ({"roles": frozenset({"artist"})}, "not-a-reviewer"),
        ({"roles": frozenset({"reader"})}, "not-a-reviewer"),
    ],
)
def test_what_stands_against_a_sign_off(change, expected):
    assert code("sign-off", replace(EDITOR, **change)) == expected


@pytest.mark.parametrize(
    ("change", "expected"),
    [
        ({}, None),
        ({"is_handed_in": True}, "already-handed-in"),
        ({"drawn_stages": frozenset({"thumbnail"})}, "no-revision"),
        ({"roles": frozenset({"editor"})}, "not-an-artist"),
        ({"roles": frozenset({"student"}), "draws_this_page": False}, "not-an-artist"),
        ({"roles": frozenset({"student"}), "draws_this_page": True}, None),
        ({"open_must_notes": 3}, None),
        ({"is_being_read": True}, "being-read"),
    ],
)
def test_who_may_hand_in_and_when(change, expected):
    assert code("hand-in", replace(ARTIST, **change)) == expected


@pytest.mark.parametrize(
    ("change", "expected"),
    [
        ({}, None),
        ({"to_stage": "thumbnail", "is_handed_in": False}, None),
        ({"to_stage": "final"}, "not-back"),
        ({"is_handed_in": False}, "not-handed-in"),
        ({"is_handed_in": False, "is_finished": True}, None),
        ({"roles": frozenset({"artist"})}, "not-a-reviewer"),
        ({"open_must_notes": 3, "running_checks": 1}, None),
    ],
)
def test_what_stands_against_sending_back(change, expected):
    assert code("send-back", replace(EDITOR, **change)) == expected


@pytest.mark.parametrize(
    ("stage", "drawn", "expected"),
    [
        ("thumbnail", {"pencil"}, "pencil"),
        ("thumbnail", {"thumbnail", "pencil"}, "thumbnail"),
        ("pencil", {"thumbnail", "final"}, "final"),
        ("pencil", {"thumbnail"}, "pencil"),
        ("thumbnail", set(), "thumbnail"),
    ],
)
def test_a_stage_that_nobody_drew_gives_way_to_the_next_one_drawn(stage, drawn, expected):
    assert stage_by_pictures(stage, drawn) == expected


def test_a_page_that_began_with_a_pencil_is_handed_in_and_signed_off_by_it_but_in_a_class():
    begun = replace(ALONE, stage="thumbnail")
    assert (code("hand-in", begun), code("sign-off", begun), stage_that_moves(begun)) == (None, None, "pencil")
    of_a_class = replace(EDITOR, stage="thumbnail", is_assigned=True)
    assert (code("sign-off", of_a_class), stage_that_moves(of_a_class)) == ("no-revision", "thumbnail")


def test_a_panel_sent_back_alone_is_signed_off_alone():
    assert code("send-back", replace(PANEL, panel_is_sent_back=False)) is None
    assert code("sign-off", PANEL) is None
    assert code("sign-off", replace(PANEL, open_must_notes=1)) == "open-must-notes"
    assert code("sign-off", replace(PANEL, panel_is_sent_back=False)) == "not-sent-back"


@pytest.mark.parametrize(
    ("drawn_since", "expected"),
    [(set(), "not-drawn-anew"), ({"thumbnail"}, "not-drawn-anew"), ({"pencil"}, None), ({"final"}, None)],
)
def test_a_panel_is_handed_in_when_it_was_drawn_since_it_was_sent_back(drawn_since, expected):
    panel = replace(ARTIST, is_panel=True, panel_is_sent_back=True, drawn_since=frozenset(drawn_since))
    assert code("hand-in", panel) == expected
    assert code("hand-in", replace(panel, is_handed_in=True)) == "already-handed-in"


def test_a_panel_signed_off_below_its_page_goes_on_until_it_is_where_its_page_is():
    assert [stage_on_its_own(stage, "final") for stage in ("thumbnail", "pencil", "final")] == ["pencil", "final", ""]
    assert [stage_on_its_own(stage, "thumbnail") for stage in ("thumbnail", "final")] == ["", ""]


def test_a_refusal_says_how_many_notes_are_in_the_way():
    assert "1 must note is" in refusal_of("sign-off", replace(EDITOR, open_must_notes=1)).reason
    assert "2 must notes are" in refusal_of("sign-off", replace(EDITOR, open_must_notes=2)).reason
