"""The ground of a page whose panels bleed off."""

import cv2
import numpy as np

from board.vision.ground_value import ground_value


def test_a_tone_with_grain_that_bleeds_off_is_no_ground():
    """Two panels bleed off, most of the rim is a tone of theirs; the page's paper shows between them alone."""
    gray = np.full((1200, 900), 250, np.uint8)
    grain = np.random.default_rng(1).normal(208, 2.7, gray.shape).round().astype(np.uint8)
    for left, top, right, bottom in ((0, 0, 900, 430), (500, 1000, 900, 1200)):
        gray[top:bottom, left:right] = grain[top:bottom, left:right]
    for top, bottom in ((426, 430), (790, 794)):
        gray[top:bottom] = 60
    for left, right in ((60, 440), (460, 840)):
        cv2.rectangle(gray, (left, 450), (right, 770), 60, 4)
    cv2.rectangle(gray, (200, 900), (500, 1300), 60, 4)
    assert ground_value(gray)[0] == 250


def test_a_tone_full_of_strips_that_one_side_does_not_show_is_no_ground():
    """The lowest panel's wall is hatched up to three sides of the page: between the hatching its tone is long thin strips."""
    gray = np.full((1200, 900), 250, np.uint8)
    gray[:400], gray[820:] = 215, 172
    for x in range(-400, 900, 14):
        cv2.line(gray, (x, 1200), (x + 380, 820), 60, 3)
    for y in (398, 822):
        cv2.line(gray, (0, y), (899, y), 60, 4)
    for left, right in ((60, 440), (460, 840)):
        cv2.rectangle(gray, (left, 420), (right, 800), 60, 4)
    assert ground_value(gray)[0] == 250
