"""A window seen at a slant, in the drawing of an open panel, is no frame."""

import cv2
import numpy as np
import pytest

from board.vision.page_piece import PieceScale
from board.vision.panel_frames import find_panels
from board.vision.shapes_in_open import without_shapes

SCALE = PieceScale(1200.0, 1200.0 * 900)
FRAME = np.array([[60, 60], [840, 60], [840, 560], [60, 560]], float)


@pytest.mark.parametrize(
    ("corners", "is_kept"),
    [
        ([[500, 800], [620, 780], [620, 930], [500, 890]], False),
        ([[500, 780], [620, 780], [620, 930], [500, 930]], True),  # upright: an inset may be
        ([[300, 700], [700, 640], [700, 1100], [300, 980]], True),  # as large as panels are
    ],
)
def test_small_shapes_askew_in_what_an_open_panel_draws_are_left_out(corners, is_kept):
    content = np.zeros((1200, 900), np.uint8)
    shape = np.array(corners, float)
    for polygon in (FRAME, shape):
        cv2.polylines(content, [polygon.astype(np.int32)], True, 1, 4)
    for x in range(80, 840, 60):
        cv2.line(content, (x, 600), (x, 1140), 1, 3)
    frames = without_shapes([FRAME, shape], content > 0, SCALE)
    assert frames[0] is FRAME and len(frames) == 1 + is_kept


def test_one_that_stands_alone_is_kept():
    shape = np.array([[500, 800], [620, 780], [620, 930], [500, 890]], float)
    content = cv2.polylines(np.zeros((1200, 900), np.uint8), [shape.astype(np.int32)], True, 1, 4)
    assert len(without_shapes([FRAME, shape], content > 0, SCALE)) == 2


@pytest.mark.parametrize(("right_top", "right_bottom", "count"), [(230, 960, 0), (300, 900, 1)])
def test_the_only_frame_of_a_page_askew_in_its_drawing_is_a_wall(right_top, right_bottom, count):
    content = np.zeros((1200, 900), np.uint8)
    shape = np.array([[300, 300], [520, right_top], [520, right_bottom], [300, 900]], float)
    cv2.polylines(content, [shape.astype(np.int32)], True, 1, 4)
    for x in (*range(20, 280, 40), *range(540, 880, 40)):
        cv2.line(content, (x, 200), (x, 1100), 1, 3)
    assert len(without_shapes([shape], content > 0, SCALE)) == count


def test_a_drawing_alone_on_its_page_is_one_panel_though_few_strokes_cross_the_white_in_it():
    gray = np.full((1400, 1000), 255, np.uint8)
    for top, bottom in ((100, 640), (664, 1300)):
        for x in range(250, 760, 30):
            cv2.line(gray, (x, top), (x + 20, bottom), 20, 3, cv2.LINE_AA)
    cv2.ellipse(gray, (500, 700), (400, 600), 0, 0, 360, 20, 4, cv2.LINE_AA)
    layout = find_panels(gray)
    assert layout.framed == (False,) and not layout.order_doubtful
