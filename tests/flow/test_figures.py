"""A figure is marked once: each upload measures it again, and a mark that does not hold says so."""

import pytest

from board.actions.carrying import marks_standing_on
from board.actions.cast import add_character, change_character
from board.actions.figure_places import record_figure_places
from board.actions.figure_posts import set_figure_posts
from board.actions.figures import change_figure, mark_figure, remove_figure
from board.actions.findings import record_findings
from board.actions.given_perspectives import set_given_perspective
from board.actions.model_sheets import add_model_sheet
from board.actions.note_states import set_note_state
from board.check_contract import Finding as Found
from board.models import Figure, FigurePlace, Job, Note, Panel, Reference
from board.page_space import PictureFrame
from board.vision.page_registration import PageRegistration
from board.worker.carry_figures import DRAWN_ANEW, LEFT_PANEL, NOTHING_IN_COMMON, OTHER_SIZE, Maps, carry_figures

# Eye level at .2 of the page: who reaches it with 1.7 m is as tall as the eye is high.
EYE_LEVEL = [[0.1, 0.2], [0.9, 0.2]]
FITTING = {"crown": [0.3, 0.2], "sole": [0.3, 0.44]}
DOUBT = 0.001  # of the picture's width
TOO_TALL = {"crown": [0.6, 0.1], "sole": [0.6, 0.4]}  # of the same 1.7 m, a half taller


@pytest.fixture
def marked(owner, page, upload, work):
    """Two figures of one height on one ground, one of them drawn half as tall again."""
    revision = upload(page)
    work()
    revision.refresh_from_db()
    panel = Panel.objects.filter(page=page).order_by("order")[0]
    set_given_perspective(seat=owner, panel=panel, given={"eye_level": EYE_LEVEL}, expected_version=None)
    cast = [add_character(seat=owner, name=name, height_m=1.7) for name in ("Ines", "Maro")]
    for who, marks in zip(cast, (FITTING, TOO_TALL), strict=True):
        mark_figure(seat=owner, revision=revision, character=who.pk, marks=marks, doubts={"crown": DOUBT})
    work()
    return revision, cast


def height_note(page) -> Note:
    return Note.objects.get(page=page, finding_kind="height-off")


def test_two_figures_that_do_not_fit_on_one_ground_are_told_and_mended_by_the_cast(marked, page, owner, work):
    note = height_note(page)
    assert ("Ines and Maro do not fit" in note.body or "Maro and Ines do not fit" in note.body), note.body
    change_character(seat=owner, character=marked[1][1], height_m=2.55, expected_version=None)
    work()
    assert height_note(page).state == "gone"


def test_an_eye_height_that_somebody_said_tells_which_of_two_is_off(marked, page, owner, work):
    """Ines reaches the eye level with 1.7 m."""
    panel = Panel.objects.filter(page=page).order_by("order")[0]
    set_figure_posts(seat=owner, panel=panel, posts=[], eye_height=1.7, expected_version=None)
    work()
    (note,) = Note.objects.filter(page=page, finding_kind="height-off", state="open")
    assert note.body.startswith("Maro is drawn"), note.body
    panel.refresh_from_db()
    set_figure_posts(seat=owner, panel=panel, posts=[], expected_version=None)
    work()
    (note,) = Note.objects.filter(page=page, finding_kind="height-off", state="open")
    assert "do not fit" in note.body


def test_marks_are_carried_to_the_next_upload_and_measured_there(marked, page, upload, work):
    after = upload(page)
    work()
    places = FigurePlace.objects.filter(revision=after)
    assert [(place.placed_by, place.reason) for place in places] == [("registered", ""), ("registered", "")]
    for place, marks in zip(places, (FITTING, TOO_TALL), strict=True):
        assert place.marks["crown"] == [pytest.approx(value, abs=0.003) for value in marks["crown"]]
        assert DOUBT < place.doubts["crown"] < 3 * DOUBT  # carrying adds its own
    assert Job.objects.get(revision=after, check_id="heights").state == "done"
    assert height_note(page).revision == after
    assert_lost_marks_say_so(marked[0], after)


def test_a_height_that_was_not_measured_again_stays_told_until_its_figures_are_marked_or_removed(marked, page, owner, upload, work,
                                                                                                 monkeypatch):
    """They were drawn anew: nobody knows yet whether their heights were mended, on this picture and on the next."""
    monkeypatch.setattr("board.worker.carry_figures.why_anew", lambda *drawn: DRAWN_ANEW)
    before = height_note(page)
    for _ in range(2):
        after = upload(page)
        work()
        places = FigurePlace.objects.filter(revision=after)
        assert [(place.placed_by, place.reason) for place in places] == [("lost", DRAWN_ANEW)] * 2
        note = height_note(page)
        assert (note.state, note.not_measured) == ("open", DRAWN_ANEW)
    after.refresh_from_db()
    for who, marks in zip(marked[1], (FITTING, TOO_TALL), strict=True):
        mark_figure(seat=owner, revision=after, character=who.pk, marks={name: [x + 0.01, y] for name, (x, y) in marks.items()})
    work()
    note = height_note(page)
    assert (note.pk, note.state, note.not_measured, note.revision) == (before.pk, "open", "", after)
    assert set(FigurePlace.objects.filter(revision=after).values_list("placed_by", flat=True)) == {"hand"}
    upload(page)
    work()
    assert height_note(page).not_measured == DRAWN_ANEW
    for figure in Figure.objects.filter(page=page):
        remove_figure(seat=owner, figure=figure)
    work()
    assert height_note(page).state == "gone"


def test_what_could_not_be_looked_for_on_one_figure_stays_told_though_another_was_measured(marked, page, owner, work):
    """Ines fits, and stands beside Maro, whose chin nobody marked this time."""
    revision, (ines, maro) = marked
    sheet = {"crown": [0.5, 0.1], "chin": [0.5, 0.2], "sole": [0.5, 0.9]}
    picture = Reference.objects.create(board=page.board, picture=revision.picture, title="Turnaround", kind="pose")
    for who in (ines, maro):
        add_model_sheet(seat=owner, character=who, reference=picture.pk, landmarks=sheet)
    first, second = Figure.objects.filter(page=page).order_by("pk")
    for figure, marks, heads in ((first, FITTING, 8), (second, TOO_TALL, 4)):
        chin = {"chin": [marks["crown"][0], marks["crown"][1] + (marks["sole"][1] - marks["crown"][1]) / heads]}
        doubts = dict.fromkeys(("crown", "chin", "sole"), DOUBT)
        change_figure(seat=owner, figure=figure, revision=revision, expected_version=None, marks={**marks, **chin}, doubts=doubts)
    work()
    note = Note.objects.get(page=page, finding_kind="heads-off")
    assert (note.state, note.not_measured) == ("open", "")
    change_figure(seat=owner, figure=second, revision=revision, expected_version=None, marks=TOO_TALL)
    work()
    note.refresh_from_db()
    assert note.state == "open"
    assert "chin is not marked" in note.not_measured


def test_what_was_said_of_one_figure_is_never_met_by_what_is_said_of_another(marked, page, owner):
    """Both drift, and both notes speak of the whole page."""
    job = Job.objects.get(revision=marked[0], check_id="proportions")
    first, second = Figure.objects.filter(page=page).order_by("pk")
    record_findings(job=job, found=[drift_of(first, 0.9), drift_of(second, 0.8)])
    note = Note.objects.get(page=page, body=f"{first.character} drifts.")
    set_note_state(seat=owner, note=note, state="stet", expected_version=None)
    record_findings(job=job, found=[drift_of(first, 0.8), drift_of(second, 0.9)])
    told = Note.objects.filter(page=page, finding_kind="off-model-trend").values_list("body", "state")
    assert dict(told) == {f"{first.character} drifts.": "stet", f"{second.character} drifts.": "open"}


def drift_of(figure, sure) -> Found:
    page = {"polygon": [[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]]}
    geometry = {"region": page, "marks": [], "figures": [figure.pk]}
    return Found("off-model-trend", None, 7.0, 6.0, 0.5, "heads", sure, f"{figure.character} drifts.", geometry)


def assert_lost_marks_say_so(before, after):
    """Under maps that have nothing in common, lead out of the panel, or blow the figure up."""
    kept = Job.objects.get(revision=after, kind="carry-notes").numbers["map"]
    frames = PictureFrame(600, 850), PictureFrame(600, 850)
    standing = marks_standing_on(before)
    for change, why in (
        ({"quality": 0.2}, NOTHING_IN_COMMON),
        ({"H_before_to_after": [[1, 0, 0], [0, 1, 400], [0, 0, 1]]}, LEFT_PANEL),
        ({"H_before_to_after": [[1, 0, 0], [0, 1.7, -130], [0, 0, 1]]}, OTHER_SIZE),
    ):
        registration = PageRegistration.from_numbers({**kept, **change})
        carried = carry_figures(standing, {}, before, after, Maps(registration), frames, NotImplemented)  # is not asked for
        assert [(one.marks, one.doubts, one.reason) for one in carried] == [({}, {}, why)] * 2
    after.refresh_from_db()
    record_figure_places(revision=after, carried=carried)
    assert {place.placed_by for place in FigurePlace.objects.filter(revision=after)} == {"lost"}
    job = Job.objects.get(revision=after, check_id="heights")
    assert (job.state, job.inputs["figures"]) == ("queued", [])
