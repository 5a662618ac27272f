"""A window seen at a slant, in the drawing of an open panel, is no frame."""

import cv2
import numpy as np
import pytest

from board.vision.page_piece import PieceScale
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
