"""The segments of one panel, and the lettered areas that are no part of it."""

import cv2
import numpy as np
import pytest

from board.vision.lettered_areas import find_lettered_areas
from board.vision.line_segments import DrawnLines
from board.vision.panel_segments import lines_of_panel, lines_within

SQUARE = np.array([[100.0, 100], [500, 100], [500, 500], [100, 500]])
BLANK = np.zeros((60, 60), bool)


def within(segments):
    lines = DrawnLines(np.array(segments, float), np.full(len(segments), 0.5))
    return lines_within(lines, SQUARE, 6, 10).segments


def test_a_segment_inside_is_kept_as_it_is():
    segment = np.array([[150.0, 160, 400, 420]])
    assert within(segment) == pytest.approx(segment)


def test_a_segment_that_runs_into_the_border_is_cut_there():
    (part,) = within([[300.0, 300, 700, 300]])
    assert part[:2] == pytest.approx([300, 300])
    assert 470 < part[2] <= 496


@pytest.mark.parametrize("border", [[100.0, 101, 500, 101], [499, 100, 499, 500]])
def test_the_border_itself_is_left_out(border):
    assert len(within([border])) == 0


def test_another_panels_segments_and_short_ones_are_left_out():
    assert len(within([[600.0, 600, 700, 700], [200, 200, 205, 203]])) == 0


def test_the_longest_comes_first_and_lettering_is_left_out():
    segments = np.array([[150.0, 150, 200, 160], [150, 300, 450, 320], [150, 400, 450, 400]])
    lettered = BLANK.copy()
    lettered[39:42] = True
    kept = lines_of_panel(DrawnLines(segments, np.array([0.2, 0.4, 0.6])), SQUARE, lettered, (600, 600))
    assert kept.segments == pytest.approx(segments[[1, 0]])
    assert list(kept.spread_px) == [0.4, 0.2]


def test_words_are_found_and_a_drawing_is_not():
    gray = np.full((900, 700), 255, np.uint8)
    cv2.putText(gray, "THE WATER IS RISING", (120, 160), cv2.FONT_HERSHEY_SIMPLEX, 0.6, 0, 2, cv2.LINE_AA)
    cv2.rectangle(gray, (100, 500), (600, 800), 60, 2)
    cv2.line(gray, (100, 500), (600, 800), 60, 2)
    found = find_lettered_areas(gray)
    assert found[145:160, 130:300].mean() > 0.9
    assert not found[400:].any()


def test_a_blank_page_has_no_words():
    assert not find_lettered_areas(np.full((300, 200), 255, np.uint8)).any()
