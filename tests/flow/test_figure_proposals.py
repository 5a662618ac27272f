"""A figure marked in one panel is proposed where it is drawn again, and nothing is measured from it before a person says so."""

import numpy as np
import pytest

from board.actions.cast import add_character
from board.actions.figure_places import CarriedMarks, record_figure_places
from board.actions.figure_proposals import answer_proposal
from board.actions.figures import mark_figure
from board.actions.measuring import queue_ready_checks
from board.actions.pages import add_page
from board.actions.proposal_inputs import pairs_on, queue_proposals
from board.actions.same_as import declare_same_as
from board.errors import NotPossibleNow
from board.models import Figure, FigurePlace, FigureProposal, Job
from board.models.revision import ready_revision
from board.worker.run_job import run_job
from tests.flow.test_same_as import panel_on
from tests.kept_rows import KeptRows
from tests.vision.scribbled_figures import CROWN, SIZE, SOLE, mended_panel, scribbled_panel

OUTLINE = [[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]]
MARKS = {"crown": (CROWN / SIZE).tolist(), "sole": (SOLE / SIZE).tolist(), "shoulder-left": [0.44, 0.4]}


def look_again(revision) -> None:
    job = Job.objects.get(kind="proposals", revision=revision)
    Job.objects.filter(pk=job.pk).update(state="queued")  # `panel_on` takes all that it queued for done
    run_job(job.pk)
    assert Job.objects.get(pk=job.pk).state == "done"
    Job.objects.filter(revision=revision).update(state="done")


def make_drawn_again(owner, artist, page):
    """The panel of page 1 with its figure marked, and that of page 2, which takes its drawing over with the figure in it."""
    first = panel_on(artist, page, scribbled_panel(1), OUTLINE)
    second = panel_on(artist, add_page(seat=owner, number=2), scribbled_panel(1, 1.0), OUTLINE)
    ines = add_character(seat=owner, name="Ines", height_m=1.7)
    mark_figure(seat=artist, revision=ready_revision(page), character=ines.pk, marks=MARKS, doubts={"crown": 0.002})
    declare_same_as(seat=artist, panel=second, model=first, expected_version=None)
    look_again(ready_revision(second.page))
    return second, ready_revision(second.page)


DRAWN_AGAIN = KeptRows(make_drawn_again)


@pytest.fixture
def drawn_again(owner, artist, page):
    return DRAWN_AGAIN.stand(owner, artist, page)


def test_all_panels_that_use_one_drawing_are_looked_at(owner, artist, page):
    blank = np.full(SIZE[::-1], 250, np.uint8)
    pages = page, add_page(seat=owner, number=2), add_page(seat=owner, number=3)
    first, second, third = (panel_on(artist, one, blank, OUTLINE) for one in pages)
    for panel in (second, third):
        queue_ready_checks(revision=ready_revision(panel.page))
        found = {"panels": [{"panel": panel.pk, "earlier": first.pk}]}
        assert Job.objects.filter(check_id="reuse", revision__page=panel.page).update(state="done", numbers=found)
    assert set(pairs_on(third.page)) == {(third.pk, first.pk), (third.pk, second.pk)}
    assert set(pairs_on(page)) == {(first.pk, second.pk), (first.pk, third.pk)}


def test_it_is_proposed_there_and_nothing_is_measured_from_it(drawn_again):
    panel, revision = drawn_again
    proposal = FigureProposal.objects.get()
    assert (proposal.panel, proposal.revision, proposal.state, proposal.found_by) == (panel, revision, "proposed", "same-as")
    for name, point in MARKS.items():
        assert proposal.marks[name] == [pytest.approx(value, abs=0.004) for value in point], name
    assert 0.002 < proposal.doubts["crown"] < 0.006
    assert not Job.objects.filter(revision=revision, check_id__in=["heights", "proportions"]).exists()
    assert not FigurePlace.objects.filter(revision=revision).exists()


def test_confirmed_it_is_a_figure_like_any_other_and_that_can_be_taken_back(drawn_again, artist):
    revision, proposal = drawn_again[1], FigureProposal.objects.get()
    proposal = answer_proposal(seat=artist, proposal=proposal, state="confirmed", expected_version=1)
    assert proposal.figure.places.get().marks == proposal.marks
    measured = Job.objects.filter(revision=revision, check_id="proportions").values_list("inputs", flat=True)
    assert [[one["id"] for one in inputs["figures"]] for inputs in measured] == [[proposal.figure.pk]]
    look_again(revision)  # who stands there already is not proposed
    assert FigureProposal.objects.get().state == "confirmed"
    proposal = answer_proposal(seat=artist, proposal=proposal, state="proposed", expected_version=proposal.version)
    assert (proposal.state, proposal.figure, Figure.objects.count()) == ("proposed", None, 1)
    look_again(revision)  # it is the same row still, and can be answered again
    assert FigureProposal.objects.get().pk == proposal.pk
    mark_figure(seat=artist, revision=revision, character=proposal.source.character_id, marks=MARKS)
    with pytest.raises(NotPossibleNow):
        answer_proposal(seat=artist, proposal=proposal, state="confirmed", expected_version=None)


def test_refused_it_does_not_come_back_with_the_next_revision(drawn_again, artist):
    panel, _ = drawn_again
    answer_proposal(seat=artist, proposal=FigureProposal.objects.get(), state="refused", expected_version=None)
    panel_on(artist, panel.page, scribbled_panel(1, 0.5, seed=5), OUTLINE)
    newest = ready_revision(panel.page)
    assert queue_proposals(revision=newest) is None
    assert [one.state for one in FigureProposal.objects.all()] == ["refused"]


def test_unanswered_it_is_looked_for_anew_on_the_next_revision(drawn_again, artist):
    panel, _ = drawn_again
    panel_on(artist, panel.page, scribbled_panel(2), OUTLINE)
    look_again(ready_revision(panel.page))
    assert not FigureProposal.objects.exists()
    panel_on(artist, panel.page, np.ascontiguousarray(scribbled_panel(1)[:, ::-1]), OUTLINE)
    look_again(ready_revision(panel.page))
    mirrored = FigureProposal.objects.get()
    assert mirrored.marks["crown"][0] == pytest.approx(1 - MARKS["crown"][0], abs=0.01)
    assert set(mirrored.marks) == {"crown", "sole", "shoulder-right"}


def test_a_figure_that_was_mended_is_asked_about_on_its_own_axis(owner, artist, page):
    """Half a head smaller, say: its head is not where its marks would lie, and so they are lost."""
    panel = panel_on(artist, page, scribbled_panel(1), OUTLINE)
    before = ready_revision(page)
    ines = add_character(seat=owner, name="Ines", height_m=1.7)
    figure = mark_figure(seat=artist, revision=before, character=ines.pk, marks=MARKS, doubts={"crown": 0.002})
    panel_on(artist, page, mended_panel(0.85, 0.85), OUTLINE)
    after = ready_revision(page)
    record_figure_places(revision=after, carried=[CarriedMarks(figure.pk, reason="Its head is not there.")])
    look_again(after)
    proposal = FigureProposal.objects.get()
    assert (proposal.panel, proposal.source, proposal.found_by, proposal.state) == (panel, figure, "axis", "proposed")
    crown = (SOLE + 0.85 * (CROWN - SOLE)) / SIZE
    assert proposal.marks["crown"] == pytest.approx(crown, abs=0.01)
    proposal = answer_proposal(seat=artist, proposal=proposal, state="confirmed", expected_version=None)
    place = FigurePlace.objects.get(revision=after)
    assert (place.placed_by, place.marks, proposal.became_id, Figure.objects.count()) == ("hand", proposal.marks, figure.pk, 1)
    proposal = answer_proposal(seat=artist, proposal=proposal, state="proposed", expected_version=None)
    assert (FigurePlace.objects.get(revision=after).placed_by, Figure.objects.count()) == ("lost", 1)
    answer_proposal(seat=artist, proposal=proposal, state="refused", expected_version=None)
    look_again(after)
    assert FigureProposal.objects.get().state == "refused"
    assert_asked_anew(figure, after.page, artist)


def assert_asked_anew(figure, page, artist):
    """What was said of one picture is not said of the next; and what a person marked meanwhile stands."""
    panel_on(artist, page, mended_panel(1.18, 1.18), OUTLINE)
    newest = ready_revision(page)
    record_figure_places(revision=newest, carried=[CarriedMarks(figure.pk, reason="Its head is not there.")])
    look_again(newest)
    proposal = FigureProposal.objects.get()
    assert (proposal.state, proposal.revision) == ("proposed", newest)
    assert mark_figure(seat=artist, revision=newest, character=figure.character_id, marks=MARKS).pk == figure.pk
    with pytest.raises(NotPossibleNow):
        answer_proposal(seat=artist, proposal=proposal, state="confirmed", expected_version=None)
    look_again(newest)
    assert not FigureProposal.objects.exists()
