"""Rules of ruled and squared paper under a drawing."""

import cv2
import numpy as np
import pytest

from board.vision.panel_frames import find_panels
from board.vision.paper_rules import without_rules
from tests.vision.test_panel_frames import matches

BOXES = ((110, 90, 890, 480), (110, 510, 480, 900), (510, 510, 890, 900), (110, 930, 890, 1310))


def drawn_page(rule=None, step_px=31, squared=False, noise=0.0):
    """A page of four frames with something in them, on paper with rules of this grey value."""
    gray = np.full((1400, 1000), 250, np.uint8)
    if rule is not None:
        gray[7::step_px] = rule
        if squared:
            gray[:, 11::step_px] = rule
    gray = np.clip(gray + np.random.default_rng(1).normal(0, noise, gray.shape), 0, 255).astype(np.uint8)
    for left, top, right, bottom in BOXES:
        cv2.rectangle(gray, (left, top), (right, bottom), 60, 3)
        cv2.circle(gray, ((left + right) // 2, (top + bottom) // 2), 90, 60, 3, cv2.LINE_AA)
    return gray


@pytest.mark.parametrize("noise", [0.0, 2.0])
@pytest.mark.parametrize("squared", [False, True])
@pytest.mark.parametrize("rule", [235, 215, 170])
def test_panels_on_ruled_paper_are_found(rule, squared, noise):
    gray = drawn_page(rule, squared=squared, noise=noise)
    drawn = [np.array([(a, b), (c, b), (c, d), (a, d)], float) for a, b, c, d in BOXES]
    assert matches(drawn, find_panels(gray).panels, gray.shape, 0.95) == [(k, k) for k in range(4)]


def test_rules_are_taken_out_and_what_is_drawn_is_left():
    plain, ruled = drawn_page(), drawn_page(200, squared=True)
    cleaned = without_rules(ruled)
    assert np.count_nonzero(np.abs(cleaned.astype(int) - plain) > 10) < 0.002 * plain.size
    assert np.count_nonzero(np.abs(ruled.astype(int) - plain) > 10) > 0.05 * plain.size


def uneven(gray):
    gray[[30, 45, 130, 190, 305, 330, 470, 520, 690, 800, 1010, 1200]] = 200


def dark(gray):
    gray[7::31] = 60


def within_the_margins(gray):
    gray[7::31, 60:940] = 200


@pytest.mark.parametrize("draw", [lambda gray: None, uneven, dark, within_the_margins])
def test_what_is_no_ruled_paper_is_left_as_it_is(draw):
    gray = drawn_page()
    draw(gray)
    assert without_rules(gray) is gray


@pytest.mark.parametrize("shape", [(1, 1), (3, 900), (900, 3), (40, 40)])
def test_small_pictures_have_no_rules(shape):
    gray = np.full(shape, 255, np.uint8)
    assert without_rules(gray) is gray
