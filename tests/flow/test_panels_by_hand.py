"""A panel that was drawn by hand since the detector missed it goes along to later pictures, where it still is drawn."""

import pytest

from board.actions.jobs import queue_job
from board.actions.notes import pin_note
from board.actions.panels import correct_panels, record_panels
from board.models import Event, Job, Note, NotePlace, Panel, PanelShape, Revision
from tests.flow.conftest import TWO_TIERS
from tests.flow.test_panel_changes import comparison, panel_ids, told

INSET = [[0.1, 0.1], [0.5, 0.1], [0.5, 0.4], [0.1, 0.4]]


def grown(frames, by: float):
    return [tuple(0.5 + by * (v - 0.5) for v in frame) for frame in frames]


@pytest.fixture
def missed(page, upload, work, owner):
    """The first picture, its two panels found, and between them one by hand with a note on it."""
    first = upload(page, TWO_TIERS)
    work()
    first.refresh_from_db()
    correct_with_inset(owner, first)
    work()
    panel = Panel.objects.get(page=page, order=2)
    pin_note(seat=owner, page=page, region={"point": [0.3, 0.25]}, body="Closer.", tone="must", revision=first)
    Note.objects.filter(body="Closer.").update(panel=panel)
    work()
    return panel, first


def correct_with_inset(owner, revision: Revision) -> None:
    upper, lower = PanelShape.objects.filter(revision=revision)
    rows = [{"id": upper.panel_id, "polygon": upper.polygon}, {"polygon": INSET}, {"id": lower.panel_id, "polygon": lower.polygon}]
    correct_panels(seat=owner, revision=revision, panels=rows)


def by_hand(revision) -> list[bool]:
    return list(PanelShape.objects.filter(revision=revision).order_by("order").values_list("is_by_hand", flat=True))


def test_it_stands_on_the_next_pictures_with_its_notes(missed, page, upload, work):
    panel, first = missed
    second, third = upload(page, grown(TWO_TIERS, 1.02)), upload(page, TWO_TIERS)
    work()
    for revision in (second, third):
        assert (panel_ids(revision), by_hand(revision)) == (panel_ids(first), [False, True, False])
        assert comparison(revision)["gone"] == []
        place = NotePlace.objects.get(note__body="Closer.", revision=revision)
        assert place.region["point"] == pytest.approx([0.3, 0.25], abs=0.02)
        perspective = Job.objects.get(revision=revision, check_id="perspective")
        assert [one["id"] for one in perspective.inputs["panels"]] == panel_ids(first)
    assert "redrawn" not in told(third)
    shape = PanelShape.objects.get(panel=panel, revision=second)
    wanted = [[0.5 + 1.02 * (v - 0.5) for v in point] for point in INSET]
    assert shape.polygon == [pytest.approx(point, abs=0.006) for point in wanted]
    assert list(Panel.objects.filter(page=page, is_gone=False).values_list("order", flat=True)) == [1, 2, 3]


def test_twice_is_as_good_as_once(missed, page, upload, work):
    _, first = missed
    second = upload(page, TWO_TIERS)
    work()
    for kind in ("check/panels", "carry-notes"):
        job = Job.objects.get(key=f"{kind}/revision/{second.pk}")
        again = {"kind": job.kind, "key": job.key, "check_id": job.check_id, "inputs": job.inputs}
        queue_job(board=job.board, revision=second, force=True, **again)
        work()
        assert (panel_ids(second), by_hand(second)) == (panel_ids(first), [False, True, False])
    assert Panel.objects.filter(page=page).count() == 3


def test_where_its_drawing_is_another_it_is_gone(missed, page, upload, work):
    panel, first = missed
    second = upload(page, TWO_TIERS, redrawn=[0])
    work()
    assert panel_ids(second) == [panel_ids(first)[0], panel_ids(first)[2]]
    assert Panel.objects.get(pk=panel.pk).is_gone


def test_what_was_found_in_its_place_is_that_panel(missed, page, upload, work):
    """Found meanwhile by another eye, in its very place, it keeps its identity, and nothing is carried beside it."""
    panel, first = missed
    second = upload(page, TWO_TIERS)
    work()
    upper, _, lower = PanelShape.objects.filter(revision=second).order_by("order")
    record_panels(revision=second, found=[{"polygon": upper.polygon}, {"polygon": INSET}, {"polygon": lower.polygon}])
    work()
    assert (panel_ids(second), by_hand(second)) == (panel_ids(first), [False] * 3)


def test_taken_out_by_hand_it_stays_out(missed, page, upload, work, owner):
    _, first = missed
    second = upload(page, TWO_TIERS)
    work()
    second.refresh_from_db()
    rows = [{"id": one.panel_id, "polygon": one.polygon} for one in PanelShape.objects.filter(revision=second, is_by_hand=False)]
    correct_panels(seat=owner, revision=second, panels=rows)
    pin_note(seat=owner, page=page, region={"point": [0.3, 0.7]}, body="Late.", tone="ask", revision=first)
    work()
    assert len(panel_ids(second)) == 2


def test_one_that_is_added_on_an_older_picture_comes_to_the_newer_one(page, upload, work, owner):
    first, second = upload(page, TWO_TIERS), upload(page, TWO_TIERS)
    work()
    first.refresh_from_db()
    correct_with_inset(owner, first)
    work()
    assert panel_ids(second) == panel_ids(first) and len(panel_ids(second)) == 3
    assert Event.objects.filter(kind="panels-carried").count() == 1
