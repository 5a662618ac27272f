"""A frame is drawn by the pen that draws the page's borders, on most of its sides."""

import cv2
import numpy as np
import pytest

from board.vision.drawn_borders import has_drawn_border
from board.vision.page_ground import find_ground
from board.vision.page_piece import PieceScale
from board.vision.ruled_strokes import RuledStroke

FRAME = np.array([[100, 100], [500, 100], [500, 400], [100, 400]], float)
PEN = RuledStroke(1.0, 0.3, 60.0, 4.0)
SCALE = PieceScale(1000.0, 1000.0 * 800)


def page(sides, width_px=4, tone=250):
    gray = np.full((1000, 800), 250, np.uint8)
    cv2.fillPoly(gray, [FRAME.astype(np.int32)], tone)
    for k in sides:
        cv2.line(gray, FRAME[k].astype(int).tolist(), FRAME[(k + 1) % 4].astype(int).tolist(), 60, width_px)
    return find_ground(gray)


@pytest.mark.parametrize(
    ("sides", "width_px", "tone", "expected"),
    [
        (range(4), 4, 250, True),
        (range(4), 4, 120, True),
        ((0, 1, 2), 4, 250, True),  # one side is broken
        ((0,), 4, 250, False),
        ((), 4, 120, False),  # a tone that ends along a straight line
        (range(4), 1, 250, False),  # a thinner pen's
    ],
)
def test_a_frame_is_drawn_along_most_of_its_sides_as_thick_as_the_page_s_borders(sides, width_px, tone, expected):
    assert has_drawn_border(FRAME - (2, 2), page(sides, width_px, tone), PEN, SCALE) == expected


@pytest.mark.parametrize(("value", "expected"), [(100, True), (180, False)])
def test_what_is_much_paler_than_the_page_s_borders_is_none(value, expected):
    gray = cv2.polylines(np.full((1000, 800), 250, np.uint8), [FRAME.astype(np.int32)], True, value, 4)
    assert has_drawn_border(FRAME - (2, 2), find_ground(gray), PEN, SCALE) == expected


def test_a_wavy_line_is_no_border():
    gray = np.full((1000, 800), 250, np.uint8)
    for a, b in zip(FRAME, np.roll(FRAME, -1, axis=0), strict=True):
        t = np.linspace(0, 1, 60)[:, None]
        across = np.array([-(b - a)[1], (b - a)[0]]) / np.hypot(*(b - a))
        line = a + t * (b - a) + 2.5 * np.sin(40 * t) * across
        cv2.polylines(gray, [line.astype(np.int32)], False, 60, 4)
    assert not has_drawn_border(FRAME, find_ground(gray), PEN, SCALE)


def test_what_bleeds_off_has_no_border_there():
    gray = np.full((1000, 800), 250, np.uint8)
    gray[:400] = 120
    cv2.line(gray, (0, 400), (800, 400), 60, 4)
    assert has_drawn_border(np.array([[0, 0], [800, 0], [800, 402], [0, 402]], float), find_ground(gray), PEN, SCALE)
