"""The ground of a page whose panels bleed off."""

import cv2
import numpy as np
import pytest

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


def bled_off(paper, tones, gutter_px):
    """Four panels of plain tones that bleed off, on `paper` (H, W), which shows in the gutters alone."""
    (down, across), half = np.array(paper.shape) // 2, gutter_px // 2
    rows, columns = ((slice(0, middle - half), slice(middle + half, None)) for middle in (down, across))
    for k, tone in enumerate(tones):
        paper[rows[k // 2], columns[k % 2]] = tone
    return paper


@pytest.mark.parametrize("pale", [243, 247])
def test_white_gutters_are_ground_beside_a_pale_tone_that_bleeds_off(pale):
    value, tolerance = ground_value(bled_off(np.full((1200, 900), 255, np.uint8), (pale, 150, 90, 200), 40))
    assert value == 255 and pale < value - tolerance


def test_paper_that_a_scan_leaves_a_little_grey_is_ground_where_panels_bleed_off():
    paper = np.random.default_rng(4).normal(248, 2.5, (1200, 900)).round().clip(0, 255).astype(np.uint8)
    value, tolerance = ground_value(bled_off(paper, (120, 150, 90, 200), 80))
    assert value == pytest.approx(248, abs=1) and tolerance > 8
