"""Lines into the corners of a rectangle from outside."""

import cv2
import numpy as np
import pytest

from board.vision.corner_lines import count_met_corners

WALL = np.array([[300, 300], [600, 300], [600, 500], [300, 500]], float)
DARK, LONGER = 60, 1200.0


def room(towards=(440, 390), corners=(0, 1, 2, 3), gap_px=0):
    """A back wall, and lines from its corners away from a point."""
    gray = np.full((800, 900), 250, np.uint8)
    cv2.polylines(gray, [WALL.astype(int)], True, DARK, 3)
    for k in corners:
        way = WALL[k] - towards
        way = way / np.hypot(*way)
        start, end = WALL[k] + gap_px * way, WALL[k] + 150 * way
        cv2.line(gray, tuple(map(int, np.round(start))), tuple(map(int, np.round(end))), DARK, 2)
    return gray


def met(gray):
    return count_met_corners(gray, WALL, float(DARK), LONGER)


@pytest.mark.parametrize("corners", [(), (1,), (0, 2), (0, 1, 3), (0, 1, 2, 3)])
def test_every_corner_counts_that_an_edge_of_the_room_runs_into(corners):
    assert met(room(corners=corners)) == len(corners)


def test_lines_that_end_short_of_it_count_not():
    assert met(room(gap_px=40)) == 0


def test_a_side_that_runs_on_counts_not():
    gray = room(corners=())
    cv2.line(gray, (250, 300), (650, 300), DARK, 1)
    assert met(gray) == 0
