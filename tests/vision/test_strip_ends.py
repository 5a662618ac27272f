"""Whether borders run on past both ends of a strip."""

import cv2
import numpy as np
import pytest

from board.vision.strip_ends import is_shut_off

LEFT, RIGHT, DARK, LONGER = 100, 500, 60, 1200.0


def strip(near=590, far=610, overshoot_px=0, parted_px=0, lean=0.0):
    """Two strokes between the sides of a panel; the sides break off between them by `parted_px`, the strokes run on past them."""
    gray = np.full((1200, 700), 250, np.uint8)
    shift = round(lean * 550)
    for x in (LEFT, RIGHT):
        cv2.line(gray, (x - shift, 50), (x + shift, 1150), DARK, 4)
    for y in (near - 2, far + 2):
        cv2.line(gray, (LEFT - overshoot_px, y), (RIGHT + overshoot_px, y), DARK, 3)
    middle = (near + far) // 2
    gray[middle - parted_px // 2 : middle + (parted_px + 1) // 2, LEFT - 20 : LEFT + 20] = 250
    return gray, (np.array([LEFT + 3.0, middle]), np.array([RIGHT - 2.0, middle])), np.array([0.0, 1.0]), (near, far)


def shut_off(**drawn):
    return is_shut_off(*strip(**drawn), float(DARK), LONGER)


@pytest.mark.parametrize("lean", [0.0, 0.01, -0.01])
def test_beams_between_the_unbroken_sides_of_a_panel_leave_a_strip_that_is_shut_off(lean):
    assert shut_off(lean=lean)


@pytest.mark.parametrize("drawn", [{"parted_px": 6}, {"overshoot_px": 8}, {"near": 597, "far": 603}])
def test_a_border_that_breaks_off_at_one_end_strokes_that_cross_it_or_borders_that_nearly_touch_do_not_shut_it_off(drawn):
    assert not shut_off(**drawn)


def test_it_is_the_same_for_a_strip_that_runs_down_the_page():
    gray, ends, normal, flanks = strip()
    turned = np.ascontiguousarray(gray.T)
    assert is_shut_off(turned, (ends[0][::-1], ends[1][::-1]), normal[::-1], flanks, float(DARK), LONGER)


def test_an_end_at_the_picture_s_edge_is_not_shut_off():
    gray, ends, normal, flanks = strip()
    assert not is_shut_off(gray[:, LEFT + 10 :], (ends[0] - (LEFT, 0), ends[1] - (LEFT, 0)), normal, flanks, float(DARK), LONGER)
