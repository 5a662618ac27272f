"""From an uploaded file to panels, renditions and measured notes, and what happens to them on the next upload."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from board.access import access_board
from board.actions.boards import change_board
from board.actions.carrying import carry_on
from board.actions.findings import record_findings
from board.actions.given_perspectives import set_given_perspective
from board.actions.note_states import open_note_again, set_note_state
from board.actions.notes import change_note, pin_note, reply_to_note
from board.actions.panels import correct_panels, leave_panel_alone
from board.actions.revisions import restore_revision, withdraw_revision
from board.check_contract import CheckResult, Findings
from board.check_contract import Finding as Found
from board.models import Finding, Job, Note, NotePlace, Panel, PanelShape
from board.models.revision import current_revision
from board.not_measured import NotMeasured
from tests.flow.conftest import THREE_PANELS, TWO_TIERS


def off_by(amount: float, panel: int | None = None, at: float = 0.2, kind: str = "stray-edge") -> Found:
    box = [[at, at], [at + 0.1, at], [at + 0.1, at + 0.1], [at, at + 0.1]]
    text, geometry = f"An edge is off by {amount}°.", {"region": {"polygon": box}, "marks": []}
    return Found(kind, panel, amount, 0.0, 4.0, "°", 0.9, text, geometry)


@pytest.fixture
def perspective_says(monkeypatch) -> Callable[..., None]:
    """Makes the perspective check answer this, so that the flow is tested and not the measuring."""

    def says(*found: Found) -> None:
        monkeypatch.setattr("board.page_checks.perspective.check", lambda page: Findings(found))

    return says


def measured(page) -> list[Note]:
    return list(Note.objects.filter(page=page, check_id="perspective"))


def test_an_upload_becomes_ready_with_panels_and_three_renditions(page, upload, work):
    revision = upload(page)
    work()
    revision.refresh_from_db()
    assert (revision.state, revision.picture.width_px, revision.picture.height_px) == ("ready", 600, 850)
    assert sorted(rendition.nominal_px for rendition in revision.picture.renditions.all()) == [400, 1200, 2400]
    assert [shape.order for shape in PanelShape.objects.filter(revision=revision)] == [1, 2]
    assert set(Job.objects.filter(revision=revision).values_list("state", flat=True)) <= {"done", "not_measured"}


def test_a_job_keeps_the_version_of_its_check_and_its_tolerances(page, upload, work, board):
    board.own_tolerances = {"perspective": {"stray_edge_deg": 7.5}}
    board.save(update_fields=["own_tolerances"])
    work(upload(page))
    inputs = Job.objects.get(check_id="perspective").inputs
    assert inputs["version"] >= 1
    assert inputs["tolerances"]["stray_edge_deg"] == 7.5
    assert "eye_level_split" in inputs["tolerances"]


def test_panels_keep_their_identity_on_the_next_revision(page, upload, work):
    work(upload(page, TWO_TIERS))
    first = list(Panel.objects.filter(page=page))
    work(upload(page, THREE_PANELS))
    panels = {panel.pk: panel for panel in Panel.objects.filter(page=page, is_gone=False)}
    assert first[0].pk in panels and panels[first[0].pk].order == 1
    assert len(panels) == 3


def test_a_panel_that_was_written_before_it_was_drawn_is_claimed_by_the_first_picture(page, upload, work):
    written = Panel.objects.create(page=page, order=1, happens="The gate jams.")
    work(upload(page, TWO_TIERS))
    assert PanelShape.objects.get(panel=written).order == 1
    assert Panel.objects.filter(page=page).count() == 2


def test_measuring_again_keeps_a_notes_replies_and_its_stet(page, upload, work, owner, perspective_says):
    perspective_says(off_by(6.0, at=0.2), off_by(8.0, at=0.6))
    revision = upload(page)
    work()
    stood, answered = measured(page)
    set_note_state(seat=owner, note=stood, state="stet", expected_version=None)
    reply_to_note(seat=owner, note=answered, body="The crate stands askew on purpose.")
    perspective_says(off_by(6.1, at=0.21), off_by(8.0, at=0.6))
    work(upload(page))
    again = measured(page)
    assert [note.pk for note in again] == [stood.pk, answered.pk]
    assert [note.state for note in again] == ["stet", "open"]
    assert again[1].replies.get().body == "The crate stands askew on purpose."
    assert Finding.objects.filter(note=stood).count() == 2
    assert revision.number == 1


def test_a_finding_that_is_gone_closes_its_note_and_one_that_returns_opens_it_again(page, upload, work, perspective_says):
    perspective_says(off_by(6.0))
    work(upload(page))
    perspective_says()
    work(upload(page))
    (note,) = measured(page)
    assert note.state == "gone"
    assert note.findings.get().measured == 6.0
    perspective_says(off_by(6.0))
    work(upload(page))
    (note,) = measured(page)
    assert note.state == "open"


@pytest.fixture
def perspective_answers(monkeypatch) -> Callable[[CheckResult], None]:
    return lambda result: monkeypatch.setattr("board.page_checks.perspective.check", lambda page: result)


def test_what_was_not_looked_for_is_not_gone(page, upload, work, perspective_says, perspective_answers):
    """Nobody knows whether it still is there: the note stays open and says why. What was looked for meanwhile is gone."""
    work(upload(page))
    panels = [panel.pk for panel in Panel.objects.filter(page=page).order_by("order")]
    perspective_says(*(off_by(6.0, panel=panel) for panel in panels))
    work(upload(page))
    few = NotMeasured("4 segments found; 6 are needed")
    perspective_answers(Findings((), {panels[0]: few}))
    work(upload(page))
    assert [(note.state, note.not_measured) for note in measured(page)] == [("open", few.reason), ("gone", "")]
    perspective_answers(NotMeasured("No panels are known on this page."))
    work(upload(page))
    assert [(note.state, note.not_measured) for note in measured(page)] == [
        ("open", "No panels are known on this page."), ("gone", ""),
    ]
    perspective_says(off_by(6.0, panel=panels[0]))
    work(upload(page))
    assert [(note.state, note.not_measured) for note in measured(page)] == [("open", ""), ("gone", "")]
    perspective_says()
    work(upload(page))
    assert [note.state for note in measured(page)] == ["gone", "gone"]


def test_what_was_said_against_a_perspective_by_hand_goes_with_it(page, upload, work, owner, perspective_says, perspective_answers):
    revision = upload(page)
    work()
    panel = PanelShape.objects.get(revision=revision, order=1).panel
    given = {"eye_level": [[0.1, 0.2], [0.9, 0.2]]}
    panel = set_given_perspective(seat=owner, panel=panel, given=given, expected_version=None)
    found = off_by(6.0, panel=panel.pk)
    perspective_says(replace(found, geometry={**found.geometry, "set_by_hand": True}))
    work()
    set_given_perspective(seat=owner, panel=panel, given=None, expected_version=None)
    perspective_answers(Findings((), {panel.pk: NotMeasured("4 segments found; 6 are needed")}))
    work()
    assert [note.state for note in measured(page)] == ["gone"]


@pytest.mark.parametrize(("now", "trend"), [(3.0, "better"), (6.2, "same"), (9.0, "worse")])
def test_a_note_says_whether_it_got_better(page, upload, work, perspective_says, now, trend):
    perspective_says(off_by(6.0))
    work(upload(page))
    perspective_says(off_by(now))
    revision = upload(page)
    work()
    assert Finding.objects.get(revision=revision).trend == trend


def test_two_quick_revisions_whose_jobs_finish_out_of_order(page, upload, work, perspective_says):
    perspective_says(off_by(6.0))
    first, second = upload(page), upload(page)
    perspective_says(off_by(9.0))
    work(second)
    assert [note.body for note in measured(page)] == ["An edge is off by 9.0°."]
    perspective_says(off_by(6.0), off_by(5.0, at=0.7))
    work(first)
    assert [note.body for note in measured(page)] == ["An edge is off by 9.0°."]
    assert current_revision(page) == second


def test_what_is_found_twice_in_one_run_opens_two_notes_and_a_rerun_adds_none(page, upload, work, perspective_says):
    perspective_says(off_by(6.0, at=0.1), off_by(6.0, at=0.7))
    revision = upload(page)
    work()
    job = Job.objects.get(revision=revision, check_id="perspective")
    record_findings(job=job, found=[off_by(6.0, at=0.7), off_by(6.0, at=0.1)])
    assert len(measured(page)) == 2
    assert all(note.state == "open" for note in measured(page))


def test_a_check_that_is_turned_off_takes_back_what_it_said_until_it_is_on(page, upload, work, owner, perspective_says):
    perspective_says(off_by(6.0))
    revision = upload(page)
    work()
    change_board(seat=owner, checks=["print-size"])
    assert [note.state for note in measured(page)] == ["gone"]
    # What was at work meanwhile has nothing to say any more.
    record_findings(job=Job.objects.get(revision=revision, check_id="perspective"), found=[off_by(6.0)])
    assert [note.state for note in measured(page)] == ["gone"]
    change_board(seat=access_board(owner.user, owner.board.pk), checks=None)
    work()
    assert [note.state for note in measured(page)] == ["open"]


def test_a_corrected_panel_queues_only_the_checks_that_build_on_panels(page, upload, work, owner):
    revision = upload(page)
    work()
    ids = [shape.panel_id for shape in PanelShape.objects.filter(revision=revision)]
    box = [[0.05, 0.05], [0.95, 0.05], [0.95, 0.4], [0.05, 0.4]]
    shapes = [{"id": ids[0], "polygon": box}, {"id": ids[1], "polygon": [[x, y + 0.5] for x, y in box]}]
    revision.refresh_from_db()
    correct_panels(seat=owner, revision=revision, panels=shapes)
    queued = set(Job.objects.filter(state="queued", kind="check").values_list("check_id", flat=True))
    assert queued == {"perspective", "reuse"}
    work()
    assert [shape.is_by_hand for shape in PanelShape.objects.filter(revision=revision)] == [True, True]
    assert Job.objects.get(check_id="perspective").inputs["panels"][0]["polygon"] == box


def test_a_panel_left_alone_gets_a_stet_and_stays_left_alone_on_the_next_revision(page, upload, work, owner, perspective_says):
    revision = upload(page)
    work()
    panel = PanelShape.objects.get(revision=revision, order=1).panel
    perspective_says(off_by(6.0, panel=panel.pk))
    work(upload(page))
    leave_panel_alone(seat=owner, panel=panel, check_id="perspective", is_left_alone=True, expected_version=None)
    perspective_says()
    work()
    work(upload(page))
    assert [note.state for note in measured(page)] == ["stet"]
    newest = Job.objects.filter(check_id="perspective").order_by("-pk").first()
    assert [one["left_alone"] for one in newest.inputs["panels"]] == [True, False]


def test_a_panel_that_is_measured_again_after_all_has_its_notes_as_they_were(page, upload, work, owner, perspective_says):
    revision = upload(page)
    work()
    panels = [shape.panel for shape in PanelShape.objects.filter(revision=revision).order_by("order")]
    perspective_says(*(off_by(6.0, panel=panel.pk) for panel in panels))
    work(upload(page))
    first, second = sorted(measured(page), key=lambda note: note.panel_id != panels[0].pk)
    for panel in panels:
        leave_panel_alone(seat=owner, panel=panel, check_id="perspective", is_left_alone=True, expected_version=None)
    # Whoever said so of a note itself meant that note.
    second.refresh_from_db()
    open_note_again(seat=owner, note=second, from_state="stet", expected_version=None)
    set_note_state(seat=owner, note=second, state="stet", expected_version=None)
    for panel in panels:
        leave_panel_alone(seat=owner, panel=panel, check_id="perspective", is_left_alone=False, expected_version=None)
    work()
    assert {note.pk: note.state for note in measured(page)} == {first.pk: "open", second.pk: "stet"}
    assert Note.objects.get(pk=first.pk).closed_at is None


def test_withdrawing_the_newest_revision_measures_the_one_before_again(page, upload, work, owner, perspective_says):
    perspective_says(off_by(6.0))
    first = upload(page)
    work()
    perspective_says()
    second = upload(page)
    work()
    assert measured(page)[0].state == "gone"
    second.refresh_from_db()
    withdraw_revision(seat=owner, revision=second)
    perspective_says(off_by(6.0))
    work()
    assert current_revision(page) == first
    assert measured(page)[0].state == "open"
    restore_revision(seat=owner, revision=second)
    assert current_revision(page) == second


def test_an_answer_holds_on_the_picture_that_it_was_given_on(page, upload, work, owner, perspective_says):
    perspective_says(off_by(6.0))
    upload(page)
    work()
    set_note_state(seat=owner, note=measured(page)[0], state="answered", expected_version=None)
    perspective_says()
    wrong = upload(page, seed=4)
    work()
    assert measured(page)[0].state == "gone"
    wrong.refresh_from_db()
    perspective_says(off_by(6.0))
    withdraw_revision(seat=owner, revision=wrong)
    work()
    assert (measured(page)[0].state, measured(page)[0].closed_at) == ("answered", None)
    for checks in (["panels"], None):
        change_board(seat=access_board(owner.user, owner.board.pk), checks=checks)
    work()
    assert measured(page)[0].state == "answered"
    restore_revision(seat=owner, revision=wrong)
    perspective_says()
    work()
    perspective_says(off_by(6.0))
    upload(page, seed=4)
    work()
    assert measured(page)[0].state == "open"


def test_a_persons_note_is_carried_to_the_next_revision(page, upload, work, owner):
    first = upload(page, THREE_PANELS)
    work()
    first.refresh_from_db()
    note = pin_note(seat=owner, page=page, region={"point": [0.3, 0.7]}, body="Whose hand is this?", tone="ask", revision=first)
    assert note.panel.order == 2
    second = upload(page, THREE_PANELS)
    work()
    place = NotePlace.objects.get(note=note, revision=second)
    assert place.placed_by == "registered"
    assert place.region["point"] == pytest.approx([0.3, 0.7], abs=0.005)


def test_what_a_note_draws_is_carried_with_it_and_moved_by_hand_stays(page, upload, work, owner):
    first = upload(page, THREE_PANELS)
    work()
    lines = [{"kind": "arrow", "points": [[0.3, 0.7], [0.4, 0.75]]}]
    note = pin_note(seat=owner, page=page, body="From here.", tone="try", lines=lines, revision=first)
    second = upload(page, THREE_PANELS)
    work()
    place = NotePlace.objects.get(note=note, revision=second)
    assert place.lines[0]["points"][1] == pytest.approx([0.4, 0.75], abs=0.005)
    note.refresh_from_db()
    change_note(seat=owner, note=note, expected_version=None, lines=[{"kind": "arrow", "points": [[0.3, 0.7], [0.5, 0.8]]}])
    work()
    place.refresh_from_db()
    assert (place.placed_by, place.lines[0]["points"][1]) == ("hand", [0.5, 0.8])
    note.refresh_from_db()
    assert note.lines == lines


def test_a_note_made_on_an_old_revision_is_carried_by_the_kept_map(page, upload, work, owner, monkeypatch):
    revisions = [upload(page, THREE_PANELS, seed=seed) for seed in (0, 0, 0)]
    work()
    monkeypatch.setattr("board.worker.carry_notes.register_pages", None)
    note = pin_note(seat=owner, page=page, region={"point": [0.3, 0.7]}, body="Late.", tone="ask", revision=revisions[0])
    work()
    places = NotePlace.objects.filter(note=note).order_by("revision__number")
    assert [place.revision_id for place in places] == [revisions[1].pk, revisions[2].pk]
    assert places[1].region["point"] == pytest.approx([0.3, 0.7], abs=0.005)


def test_a_note_moved_on_its_revision_moves_on_those_it_was_carried_to(page, upload, work, owner):
    first, second = upload(page, THREE_PANELS), upload(page, THREE_PANELS)
    work()
    note = pin_note(seat=owner, page=page, region={"point": [0.3, 0.7]}, body="Here?", tone="ask", revision=first)
    work()
    Note.objects.filter(pk=note.pk).update(region={"point": [0.7, 0.7]})
    carry_on(revision=first)
    work()
    assert NotePlace.objects.get(note=note, revision=second).region["point"] == pytest.approx([0.7, 0.7], abs=0.005)


def test_on_a_page_redrawn_from_scratch_a_note_keeps_its_place_in_its_panel(page, upload, work, owner):
    first = upload(page, TWO_TIERS)
    work()
    first.refresh_from_db()
    note = pin_note(seat=owner, page=page, region={"point": [0.5, 0.26]}, body="Closer.", tone="try", revision=first)
    second = upload(page, [(0.06, 0.05, 0.94, 0.40), (0.06, 0.45, 0.94, 0.95)], seed=9)
    work()
    place = NotePlace.objects.get(note=note, revision=second)
    assert place.placed_by == "panel"
    assert place.region["point"] == pytest.approx([0.5, 0.225], abs=0.02)
    # A map from there on knows no more of it, until somebody says where it belongs.
    third, fourth = (upload(page, [(0.06, 0.05, 0.94, 0.40), (0.06, 0.45, 0.94, 0.95)], seed=9) for _ in range(2))
    work()
    assert NotePlace.objects.get(note=note, revision=fourth).placed_by == "panel"
    NotePlace.objects.filter(note=note, revision=third).update(placed_by="hand")
    carry_on(revision=third)
    work()
    assert NotePlace.objects.get(note=note, revision=fourth).placed_by == "registered"


def test_a_picture_for_another_stage_is_kept_there_and_moves_nothing(page, upload, work):
    thumbnail = upload(page)
    final = upload(page, stage="final")
    work()
    page.refresh_from_db()
    assert page.stage == "thumbnail"
    assert current_revision(page) == thumbnail
    assert final.number == 2
