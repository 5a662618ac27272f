"""The ground of a page that was compressed, and one whose gutters are as dark as its ink."""

import cv2
import numpy as np
import pytest

from board.vision.page_ground import find_ground
from board.vision.panel_frames import find_panels

SIZE = (700, 500)
LEFT, RIGHT = (30, 30, 236, 670), (264, 30, 470, 670)


def inked_page() -> np.ndarray:
    """Two frames full of strokes, with a gutter of 26 px between them."""
    gray = np.full(SIZE, 255, np.uint8)
    for left, top, right, bottom in (LEFT, RIGHT):
        cv2.rectangle(gray, (left, top), (right, bottom), 20, 3)
        for y in range(top + 9, bottom - 5, 11):
            cv2.line(gray, (left, y), (right, y + 3), 60, 2)
    return gray


def dark_page(gutter_px: int) -> np.ndarray:
    """Two white panels on black; ink as black as that runs through both, and on into the gutter and the margin."""
    gray = np.full(SIZE, 8, np.uint8)
    middle = SIZE[1] // 2
    for left, right in ((30, middle - gutter_px // 2), (middle + gutter_px - gutter_px // 2, 470)):
        gray[30:670, left:right] = 250
        cv2.line(gray, (left, 300), (right, 330), 10, 2)
        cv2.line(gray, ((left + right) // 2, 30), ((left + right) // 2 + 12, 670), 10, 2)
    return gray


@pytest.mark.parametrize("quality", [60, 80, 92])
def test_ripples_of_compression_beside_strokes_are_ground(quality):
    packed = cv2.imencode(".jpg", inked_page(), [cv2.IMWRITE_JPEG_QUALITY, quality])[1]
    ground = find_ground(cv2.imdecode(packed, cv2.IMREAD_GRAYSCALE)).ground
    assert ground[40:660, LEFT[2] + 5 : RIGHT[0] - 4].mean() > 0.99


def test_pale_tones_beside_ruled_strokes_are_no_ripples():
    gray = inked_page()
    gray[40:660, LEFT[2] + 8 : RIGHT[0] - 8] = 243
    assert not find_ground(gray).paper[60:640, 246:254].any()


@pytest.mark.parametrize("gutter_px", [6, 20])
def test_ink_as_dark_as_the_gutters_parts_no_panel(gutter_px):
    found = sorted(np.round(polygon[:, 0].min()) for polygon in find_panels(dark_page(gutter_px)).panels)
    assert len(found) == 2
    assert found[1] == pytest.approx(250 + gutter_px / 2, abs=3)


@pytest.mark.parametrize("is_framed", [True, False])
def test_a_thin_gutter_as_dark_as_the_ink_parts_two_panels(is_framed):
    """6 px of 1200, thinner than what is taken for ground wherever it lies."""
    gray = np.full((1200, 800), 8, np.uint8)
    for top, bottom in ((50, 597), (603, 1150)):
        gray[top:bottom, 50:750] = 255 if is_framed else 180
        cv2.line(gray, (50, top + 200), (750, top + 230), 10, 3)
        cv2.ellipse(gray, (400, top + 250), (90, 140), 0, 0, 360, 10, 3)
    found = sorted(round(float(polygon[:, 1].min())) for polygon in find_panels(gray).panels)
    assert found == pytest.approx([50, 603], abs=4)


def test_a_thick_ruled_stroke_beside_wide_gutters_parts_no_panel():
    gray = np.full((1200, 800), 8, np.uint8)
    for top, bottom in ((50, 588), (612, 1150)):
        gray[top:bottom, 50:750] = 180
        gray[top + 200 : top + 205, 50:750] = 10
        cv2.ellipse(gray, (400, top + 350), (90, 140), 0, 0, 360, 10, 3)
    assert len(find_panels(gray).panels) == 2
