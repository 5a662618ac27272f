"""A panel that a page should have and that its newest picture has not is told once, and no more when it is there again."""

from board.actions.note_states import set_note_state
from board.actions.panels import add_panel, correct_panels, drop_panel
from board.actions.revisions import withdraw_revision
from board.models import Job, Note, PanelShape
from tests.flow.conftest import THREE_PANELS, TWO_TIERS


def told(page) -> list[tuple[str, str]]:
    return list(Note.objects.filter(page=page, finding_kind="panel-missing").values_list("state", "body"))


def test_a_page_that_has_what_it_should_have_is_not_even_counted(owner, page, upload, work):
    for _ in range(3):
        add_panel(seat=owner, page=page, happens="The gate.")
    upload(page, THREE_PANELS)
    work()
    upload(page, THREE_PANELS, "pencil", seed=3)
    work()
    assert told(page) == [] and not Job.objects.filter(check_id="panels-there").exists()


def test_what_was_written_and_not_drawn_is_told_until_it_is_taken_out(owner, page, upload, work):
    *_, third = [add_panel(seat=owner, page=page, happens="The gate.") for _ in range(3)]
    upload(page, TWO_TIERS)
    work()
    ((state, body),) = told(page)
    assert state == "open" and "of 3 that the page should have. Panel 3 is planned and not drawn." in body
    drop_panel(seat=owner, panel=third)
    work()
    assert [state for state, _ in told(page)] == ["gone"]


def test_a_panel_that_is_added_beside_a_drawn_page_is_told_and_not_as_one_that_has_words(owner, page, upload, work):
    upload(page, TWO_TIERS)
    work()
    add_panel(seat=owner, page=page)
    work()
    assert "Panel 3 is planned and not drawn." in told(page)[0][1]


def test_a_panel_that_two_pictures_lack_is_one_note_and_goes_when_it_is_there_again(page, upload, work):
    upload(page, THREE_PANELS)
    work()
    for seed in (1, 2):
        upload(page, TWO_TIERS, seed=seed)
        work()
        ((state, body),) = told(page)
        assert state == "open" and "Panel 3 of revision 1 is not found: panel 2 lies where it was." in body
    upload(page, THREE_PANELS, seed=3)
    work()
    assert [state for state, _ in told(page)] == ["gone"]


def test_what_was_given_a_stet_stays_one(owner, page, upload, work):
    upload(page, THREE_PANELS)
    work()
    upload(page, TWO_TIERS, seed=1)
    work()
    set_note_state(seat=owner, note=Note.objects.get(finding_kind="panel-missing"), state="stet", expected_version=None)
    upload(page, TWO_TIERS, "pencil", seed=2)
    work()
    assert [state for state, _ in told(page)] == ["stet"]


def test_a_panel_that_somebody_took_out_of_a_picture_is_waited_for_no_more(owner, page, upload, work):
    first = upload(page, THREE_PANELS)
    work()
    kept = PanelShape.objects.filter(revision=first).order_by("order")[:2]
    correct_panels(seat=owner, revision=first, panels=[{"id": one.panel_id, "polygon": one.polygon} for one in kept])
    work()
    upload(page, TWO_TIERS, seed=1)
    work()
    assert told(page) == []


def test_corrected_on_the_new_picture_the_question_ends(owner, page, upload, work):
    upload(page, THREE_PANELS)
    work()
    second = upload(page, TWO_TIERS, seed=1)
    work()
    second.refresh_from_db()
    shapes = PanelShape.objects.filter(revision=second)
    correct_panels(seat=owner, revision=second, panels=[{"id": one.panel_id, "polygon": one.polygon} for one in shapes])
    work()
    assert [state for state, _ in told(page)] == ["gone"]


def test_a_panel_by_hand_that_is_carried_to_the_next_picture_is_never_told_as_missing(owner, page, upload, work):
    """The detector takes both lower panels for one, as before; the worker sees that the one drawn by hand still stands."""
    first = upload(page, TWO_TIERS)
    work()
    upper, lower = PanelShape.objects.filter(revision=first).order_by("order")
    halves = [[[left, 0.52], [right, 0.52], [right, 0.95], [left, 0.95]] for left, right in ((0.06, 0.5), (0.5, 0.94))]
    correct_panels(seat=owner, revision=first, panels=[
        {"id": upper.panel_id, "polygon": upper.polygon}, {"id": lower.panel_id, "polygon": halves[0]}, {"polygon": halves[1]},
    ])
    work()
    upload(page, TWO_TIERS)
    work()
    assert told(page) == []


def test_what_only_a_withdrawn_picture_had_is_not_waited_for(owner, page, upload, work):
    upload(page, TWO_TIERS)
    wrong = upload(page, THREE_PANELS, seed=1)
    work()
    withdraw_revision(seat=owner, revision=wrong)
    upload(page, TWO_TIERS, seed=2)
    work()
    assert told(page) == []


def test_another_try_at_the_page_may_have_fewer_panels(page, upload, work):
    upload(page, THREE_PANELS)
    work()
    upload(page, TWO_TIERS, seed=1, alternate="B")
    work()
    assert told(page) == []
