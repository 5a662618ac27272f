"""A picture made smaller by the mean of what falls on each pixel."""

import cv2
import numpy as np
import pytest

from board.vision.made_smaller import made_smaller

NOISE = np.random.default_rng(3).integers(0, 256, (1300, 700)).astype(np.uint8)


@pytest.mark.parametrize(("longer_px", "shape"), [(1400, (1300, 700)), (1300, (1300, 700)), (900, (900, 485)), (400, (400, 215))])
def test_its_longer_side_is_as_asked_for_at_most(longer_px, shape):
    assert made_smaller(NOISE, longer_px).shape == shape


def test_a_picture_that_is_small_enough_is_the_same_one():
    assert made_smaller(NOISE, 2000) is NOISE


def test_halved_first_it_is_about_what_it_is_at_one_go():
    """Noise that changes from pixel to pixel would show any pixel left out."""
    smooth = cv2.GaussianBlur(NOISE, (0, 0), 3.0)
    at_one_go = cv2.resize(smooth, (215, 400), interpolation=cv2.INTER_AREA)
    assert np.abs(made_smaller(smooth, 400).astype(int) - at_one_go).max() <= 3
    assert made_smaller(NOISE, 400).std() < 0.4 * NOISE.std()
