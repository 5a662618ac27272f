"""A still of a set is solved on upload, and its exact camera gives panels drawn from it their measure."""

from io import BytesIO

import cv2
import numpy as np
import pytest

from board.actions.references import add_reference, set_still_camera, tie_still
from board.actions.underlays import request_underlay
from board.exact_camera import ExactCamera
from board.models import Job, Panel, Reference
from tests.page_checks.test_perspective import CAMERA, draw


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
