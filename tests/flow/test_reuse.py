"""A page uploaded later tells what it shows again, and proposes the same view to be declared; what people said of a pair stands."""

import pytest
from django.contrib.auth import get_user_model

from board.actions.measuring import queue_ready_checks
from board.actions.members import add_member
from board.actions.page_order import insert_page, place_page
from board.actions.pages import add_page, change_page
from board.actions.panels import correct_panels
from board.actions.same_as import declare_same_as, refuse_same_as
from board.models import Finding, Job, Note, Page, PanelPrint, PanelShape, Revision, SameAs
from board.worker.run_job import run_job
from tests.bench.same_as_pairs import draw_pair
from tests.flow.test_same_as import panel_on
from tests.kept_rows import KeptRows


@pytest.fixture(scope="module")
def pair():
    return draw_pair(41, "final")


def looked_up(panel) -> Job:
    queue_ready_checks(revision=panel.page.revisions.get())
    job = Job.objects.get(check_id="reuse", revision__page=panel.page)
    Job.objects.filter(pk=job.pk).update(state="queued")
    run_job(job.pk)
    return Job.objects.get(pk=job.pk)


def make_both(owner, artist, page, pair):
    earlier, later, outline = pair
    model = panel_on(artist, page, earlier, outline)
    looked_up(model)
    panel = panel_on(artist, add_page(seat=owner, number=2, drawn_by="tjark"), later, outline)
    looked_up(panel)
    return model, panel


BOTH = KeptRows(make_both)


@pytest.fixture
def both(owner, artist, page, pair):
    return BOTH.stand(owner, artist, page, pair)


def test_the_later_page_tells_and_proposes_and_the_earlier_one_does_not(both):
    model, panel = both
    assert [one.panel for one in Finding.objects.filter(kind="reuse-found")] == [panel]
    assert Note.objects.get(finding_kind="reuse-found").tone == "keep"
    (row,) = SameAs.objects.all()
    assert (row.panel, row.model, row.state) == (panel, model, "proposed")
    assert set(PanelPrint.objects.values_list("panel", flat=True)) == {model.pk, panel.pk}
    assert looked_up(model).numbers["panels"] == []


def test_when_pages_are_moved_the_note_calls_the_other_panel_by_its_number_now(both, owner):
    model, _ = both

    def said() -> tuple[str, dict]:
        note = Note.objects.get(finding_kind="reuse-found")
        assert note.body == note.findings.get().text
        return note.body, note.findings.get().geometry

    text, geometry = said()
    assert geometry["other"] == {"panel": model.pk, "page": model.page_id, "called": "panel 1 of page 1"}
    assert "was drawn before, in panel 1 of page 1" in text
    insert_page(seat=owner, number=1)
    moved, geometry = said()
    assert moved == text.replace("of page 1", "of page 2")
    assert geometry["marks"][0]["label"] == geometry["other"]["called"] == "panel 1 of page 2"
    place_page(seat=owner, page=Page.objects.get(pk=model.page_id), before=None, expected_version=None)
    # It stands after the page that tells of it by now, whichever was drawn first.
    assert "is also drawn in panel 1 of page 3" in said()[0]
    change_page(seat=owner, page=Page.objects.get(pk=model.page_id), is_spread=True, expected_version=None)
    assert "is also drawn in panel 1 of page 3-4" in said()[0]
    shape = PanelShape.objects.get(panel=model)
    first = {"polygon": [[0.0, 0.0], [0.02, 0.0], [0.02, 0.02]]}
    revision = Revision.objects.get(page=model.page_id)
    correct_panels(seat=owner, revision=revision, panels=[first, {"id": model.pk, "polygon": shape.polygon}])
    assert "is also drawn in panel 2 of page 3-4" in said()[0]


def test_a_declared_pair_is_not_told_again(artist, both):
    model, panel = both
    declare_same_as(seat=artist, panel=panel, model=model, expected_version=None)
    looked_up(panel)
    assert Note.objects.get(finding_kind="reuse-found").state == "gone"
    assert [row.state for row in SameAs.objects.all()] == ["declared"]


def test_nor_is_it_where_the_page_that_came_later_has_the_model(artist, both):
    earlier, later = both
    declare_same_as(seat=artist, panel=earlier, model=later, expected_version=None)
    assert [(row.panel, row.model, row.state) for row in SameAs.objects.all()] == [(earlier, later, "declared")]
    assert Job.objects.get(check_id="reuse", revision__page=later.page).state == "queued"
    assert looked_up(later).numbers["panels"] == []
    assert Note.objects.get(finding_kind="reuse-found").state == "gone"
    assert SameAs.objects.count() == 1


def test_nor_where_both_take_over_a_third_ones_drawing(owner, artist, both, pair):
    """Followed, the proposal would part the panel from the one that it was declared the same as."""
    model, panel = both
    third = panel_on(artist, add_page(seat=owner, number=3), pair[1], pair[2])
    for one in (panel, third):
        declare_same_as(seat=artist, panel=one, model=model, expected_version=None)
    assert looked_up(third).inputs["one_drawing"] == {str(third.pk): [model.pk, panel.pk]}
    assert looked_up(third).numbers["panels"] == []
    refuse_same_as(seat=artist, panel=panel, model=model, expected_version=None)
    assert Job.objects.get(check_id="reuse", revision__page=third.page).state == "queued"
    assert [row["earlier"] for row in looked_up(third).numbers["panels"]] == [panel.pk]


def test_a_refused_pair_is_not_proposed_again(artist, both):
    model, panel = both
    refuse_same_as(seat=artist, panel=panel, model=model, expected_version=None)
    looked_up(panel)
    assert [row.state for row in SameAs.objects.all()] == ["refused"]


def test_a_students_page_is_not_compared_with_what_the_student_may_not_see(owner, artist, page, pair):
    earlier, later, outline = pair
    looked_up(panel_on(artist, page, earlier, outline))
    get_user_model().objects.create_user("elske")
    add_member(seat=owner, username="elske", roles=["student"])
    own = panel_on(artist, add_page(seat=owner, number=3, drawn_by="elske"), later, outline)
    assert looked_up(own).numbers["panels"] == []
    page.is_open_to_students = True
    page.save()
    assert [row["page_number"] for row in looked_up(own).numbers["panels"]] == [page.number]
