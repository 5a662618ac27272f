"""A panel declared the same as one of an earlier page is measured, and measured again when the earlier page is drawn anew."""

from io import BytesIO

import numpy as np
import pytest
from PIL import Image

from board.actions.intake import mark_revision_ready, record_picture_size
from board.actions.measuring import queue_ready_checks
from board.actions.pages import add_page
from board.actions.panels import record_panels
from board.actions.revisions import receive_revision
from board.actions.same_as import declare_same_as, measure_same_as_again
from board.models import Finding, Job, Panel
from board.worker.run_job import run_job
from tests.bench.same_as_pairs import draw_pair


@pytest.fixture(scope="module")
def slipped():
    return draw_pair(41, "final", "shift", 3.0)


def panel_on(artist, page, pixels, outline) -> Panel:
    """The page as uploaded, its panel as given: everything but the check of this test is done."""
    file = BytesIO()
    Image.fromarray(pixels).save(file, "PNG")
    revision = receive_revision(seat=artist, page=page, file=BytesIO(file.getvalue()), stage="final", file_name="page.png")
    record_picture_size(picture=revision.picture, width_px=pixels.shape[1], height_px=pixels.shape[0], dpi=None)
    mark_revision_ready(revision=revision)
    panel = record_panels(revision=revision, found=[{"polygon": outline, "framed": True}])[0].panel
    revision.refresh_from_db()
    queue_ready_checks(revision=revision)
    Job.objects.filter(revision=revision).update(state="done")
    return panel


def same_as_job(panel) -> Job:
    return Job.objects.get(check_id="same-as", revision__page=panel.page)


def test_a_slip_becomes_a_measured_note(owner, artist, page, slipped):
    earlier, later, outline = slipped
    model = panel_on(artist, page, earlier, outline)
    panel = panel_on(artist, add_page(seat=owner, number=2), later, outline)
    assert not Job.objects.filter(check_id="same-as").exists()
    declare_same_as(seat=artist, panel=panel, model=model, expected_version=None)
    run_job(same_as_job(panel).pk)
    finding = Finding.objects.get(kind="same-as-drift")
    assert finding.measured == pytest.approx(3.0, abs=0.2)
    assert "panel 1 of page 1" in finding.text
    assert finding.geometry["other"] == {"panel": model.pk, "page": page.pk, "called": "panel 1 of page 1"}
    panel_on(artist, page, np.ascontiguousarray(later), outline)
    measure_same_as_again(revision=page.revisions.last())
    assert same_as_job(panel).state == "queued"
