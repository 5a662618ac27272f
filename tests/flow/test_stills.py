"""A still of a set is solved on upload, and its exact camera gives panels drawn from it their measure."""

from io import BytesIO

import cv2
import numpy as np
import pytest

from board.actions.references import add_reference, remove_reference, set_still_camera, tie_still
from board.actions.revisions import receive_revision
from board.actions.still_places import place_still
from board.actions.still_search import search_still, still_search_of
from board.actions.underlays import request_underlay
from board.exact_camera import ExactCamera
from board.models import Job, Panel, Reference
from tests.page_checks.test_perspective import CAMERA, draw
from tests.vision.test_still_registration import BOXES, OTHER_BOXES, panel_of, picture


def picture_of(pixels: np.ndarray) -> BytesIO:
    return BytesIO(cv2.imencode(".png", pixels)[1].tobytes())


@pytest.fixture
def add(owner, work):
    def add(pixels: np.ndarray, kind: str = "still") -> Reference:
        reference = add_reference(seat=owner, file=picture_of(pixels), title="The mill room", kind=kind)
        work()
        reference.refresh_from_db()
        assert reference.state == "ready"
        return reference

    return add


def test_a_still_is_solved_when_it_is_uploaded(add):
    pixels = draw(CAMERA)
    numbers = add(pixels).numbers
    height, width = pixels.shape
    horizon = CAMERA.horizon()
    misses = [abs(horizon @ [x * width, y * height, 1]) for x, y in numbers["eye_level"]]
    assert max(misses) < 0.02 * height
    assert numbers["focal_px"] == pytest.approx(CAMERA.focal_px, rel=0.1)


def test_a_still_whose_lines_show_nothing_says_so(add):
    numbers = add(np.full((300, 400), 255, np.uint8)).numbers
    assert numbers == {"reason": "0 segments found; 8 are needed"}


def test_other_references_are_not_solved(add):
    assert add(draw(CAMERA), kind="prop").numbers == {}


def test_the_still_that_a_panel_is_tied_to_gives_its_eye_height(add, owner, page, upload, work):
    revision = upload(page)
    work()
    revision.refresh_from_db()
    still = set_still_camera(seat=owner, reference=add(draw(CAMERA)), camera=ExactCamera(900.0, eye_height_m=1.45))
    panel = Panel.objects.filter(page=page).order_by("order")[0]
    tie_still(seat=owner, panel=panel, still=still, expected_version=None)
    underlay = request_underlay(seat=owner, revision=revision)
    inputs = Job.objects.get(underlay=underlay).inputs
    assert [one["eye_height_m"] for one in inputs["panels"]] == [1.45, None]


@pytest.fixture
def tied(add, owner, page, work):
    """A page of one drawn panel, tied to a still."""
    def tied(still: np.ndarray) -> Panel:
        drawn = cv2.copyMakeBorder(panel_of(BOXES), 60, 60, 60, 60, cv2.BORDER_CONSTANT, value=255)
        receive_revision(seat=owner, page=page, file=picture_of(drawn), stage="pencil")
        reference = add(still)
        return tie_still(seat=owner, panel=Panel.objects.get(page=page), still=reference, expected_version=None)

    return tied


def test_a_still_is_found_under_its_panel_and_placed_once_it_is_confirmed(tied, owner, work):
    panel = tied(picture(BOXES, as_tones=True))
    assert still_search_of(panel) is None
    search_still(seat=owner, panel=panel)
    work()
    job = still_search_of(panel)
    assert job.state == "done" and panel.still_place is None
    points = {name: job.numbers[name] for name in ("in_still", "on_page")}
    for still, on_page in zip(points["in_still"], points["on_page"], strict=True):
        assert np.array(on_page) * [760, 580] - 60 == pytest.approx(np.array(still) * [640, 460], abs=5)
    placed = place_still(seat=owner, panel=panel, points=points, expected_version=None)
    assert placed.still_place["by"] == "registration"
    moved = {**points, "on_page": [[0.2, 0.2], [0.7, 0.8]]}
    assert place_still(seat=owner, panel=panel, points=moved, expected_version=None).still_place["by"] == "hand"


def test_a_still_of_another_set_is_not_found_and_one_that_was_taken_away_is_not_looked_for(tied, owner, work):
    panel = tied(picture(OTHER_BOXES, as_tones=True))
    search_still(seat=owner, panel=panel)
    work()
    job = still_search_of(panel)
    assert job.state == "not_measured" and "two points" in job.reason
    job = search_still(seat=owner, panel=tie_still(seat=owner, panel=panel, still=panel.still, expected_version=None))
    Job.objects.filter(pk=job.pk).update(state="queued")
    remove_reference(seat=owner, reference=panel.still)
    work()
    assert Job.objects.get(pk=job.pk).reason == "The still was taken away meanwhile."


def test_a_placed_still_is_held_against_its_panel_and_asked_again_when_its_camera_changes(tied, owner, work):
    panel = tied(picture(BOXES, as_tones=True))
    revision = panel.page.revisions.get()
    assert not Job.objects.filter(check_id="still").exists()
    points = {"in_still": [[0.2, 0.2], [0.8, 0.8]], "on_page": [[(60 + x * 640) / 760, (60 + x * 460) / 580] for x in (0.2, 0.8)]}
    place_still(seat=owner, panel=panel, points=points, expected_version=None)
    work()
    job = Job.objects.get(revision=revision, check_id="still")
    assert job.state == "done" and job.numbers["panels"][0]["panel"] == panel.pk
    digest = job.digest
    set_still_camera(seat=owner, reference=panel.still, camera=ExactCamera(560.0, pitch_deg=-5.0))
    job.refresh_from_db()
    assert (job.state, job.digest != digest) == ("queued", True)
    work()
    remove_reference(seat=owner, reference=panel.still)
    work()
    job.refresh_from_db()
    assert job.state == "not_measured" and "No still" in job.reason
