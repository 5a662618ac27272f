"""Lines that a drawing is constructed on, and that run past the borders of panels."""

import cv2
import numpy as np
import pytest

from board.vision.crossing_strokes import bare_under_strokes
from board.vision.page_ground import reached_from_edge
from board.vision.panel_frames import find_panels
from tests.vision.test_panel_frames import matches
from tests.vision.test_paper_rules import BOXES, drawn_page

DRAWN = [np.array([(a, b), (c, b), (c, d), (a, d)], float) for a, b, c, d in BOXES]
SLANTED = [np.array(corners, float) for corners in (
    [(110, 90), (560, 90), (460, 650), (110, 650)], [(590, 90), (890, 90), (890, 650), (490, 650)],
    [(110, 690), (890, 690), (890, 1310), (110, 1310)],
)]


def constructed(gray, value, seed, lines=16, past_px=120):
    """The page with straight lines through each of its panels to two points, and on past its borders."""
    rng = np.random.default_rng(seed)
    drawn = gray.copy()
    for left, top, right, bottom in BOXES:
        size = np.array([right - left, bottom - top])
        for point in (np.array([left, top]) + size * (-0.8, 0.4), np.array([left, top]) + size * (1.9, 0.45)):
            for _ in range(lines // 2):
                start = np.array([left, top]) + rng.uniform(0.15, 0.85, 2) * size
                way = (point - start) / np.hypot(*(point - start))
                to_edge = np.where(way > 0, np.array([right, bottom]) - start, np.array([left, top]) - start) / way
                end = start + way * (to_edge.min() + rng.uniform(20, past_px))
                cv2.line(drawn, start.astype(int).tolist(), end.astype(int).tolist(), value, 2, cv2.LINE_AA)
    return drawn


@pytest.mark.parametrize("value", [90, 170])
def test_most_pages_are_found_under_lines_that_run_past_their_borders(value):
    """Hard ones: of eight with sixteen lines a panel none was right as long as each line was taken for a part of the drawing."""
    pages = [constructed(drawn_page(), value, seed) for seed in range(8)]
    right = [matches(DRAWN, find_panels(gray).panels, gray.shape, 0.9) == [(k, k) for k in range(4)] for gray in pages]
    assert sum(right) >= 4


def masks(gray):
    paper = gray > 235
    return paper, reached_from_edge(paper), gray < 220


def test_a_closed_gutter_is_bare_again_and_no_border_is():
    crossed = drawn_page()
    for y in (560, 640, 700, 790, 850):  # from panel to panel, not level and not upright
        cv2.line(crossed, (440, y), (550, y + 40), 90, 2)
    paper, ground, inked = masks(crossed)
    bare = bare_under_strokes(paper, ground, inked)
    gutter = np.s_[515:895, 484:506]
    assert ground[gutter].mean() < 0.5 and reached_from_edge(bare)[gutter].mean() == 1.0
    borders = np.full(crossed.shape, 255, np.uint8)
    for left, top, right, bottom in BOXES:
        cv2.rectangle(borders, (left, top), (right, bottom), 0, 3)
    assert not bare[borders == 0].any()


def test_slanted_borders_stay_where_a_lane_of_the_drawing_ends_at_them():
    gray = np.full((1400, 1000), 250, np.uint8)
    for polygon in SLANTED:
        cv2.polylines(gray, [polygon.astype(np.int32)], True, 60, 3, cv2.LINE_AA)
    for y in (120, 150, 560, 590):  # beams from side to side, as wide as a gutter
        cv2.line(gray, (112, y), (560 - (y - 90) // 6, y), 60, 2)
        cv2.line(gray, (590 - (y - 90) // 6, y), (888, y), 60, 2)
    for x in range(130, 880, 24):
        cv2.line(gray, (x, 120), (x - 8, 150), 60, 2, cv2.LINE_AA)
    paper, ground, inked = masks(gray)
    assert (reached_from_edge(bare_under_strokes(paper, ground, inked)) & ~ground).mean() < 0.002
    assert matches(SLANTED, find_panels(gray).panels, gray.shape, 0.95) == [(k, k) for k in range(3)]
