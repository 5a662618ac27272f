"""The ground of a page that a computer filled with a slow change of tones."""

import cv2
import numpy as np
import pytest

from board.vision.graded_ground import level_ground
from board.vision.panel_frames import find_panels

HEIGHT, WIDTH = 1000, 700
FRAMES = (40, 40, 340, 480), (360, 40, 660, 480), (40, 500, 660, 960)


def changing(turn_deg, low=70, high=240):
    """A ground (H, W) whose tones change along one direction."""
    y, x = np.mgrid[0:HEIGHT, 0:WIDTH]
    along = np.cos(np.radians(turn_deg)) * x + np.sin(np.radians(turn_deg)) * y
    return low + (high - low) * (along - along.min()) / np.ptp(along)


def page_on(ground, seed=None):
    gray = ground.copy()
    for left, top, right, bottom in FRAMES:
        cv2.rectangle(gray, (left, top), (right, bottom), 255, -1)
        cv2.rectangle(gray, (left, top), (right, bottom), 15, 4)
        cv2.ellipse(gray, ((left + right) // 2, (top + bottom) // 2), (60, 90), 0, 0, 360, 15, 3)
    noise = np.random.default_rng(seed).normal(0, 1.5, gray.shape) if seed is not None else 0
    return np.clip(np.round(gray + noise), 0, 255).astype(np.uint8)


@pytest.mark.parametrize("turn_deg", [0, 37, 90, 205])
def test_the_ground_is_white_and_all_else_as_dark_as_it_is_off_it(turn_deg):
    ground = changing(turn_deg)
    level = level_ground(page_on(ground))
    assert level[:30].min() >= 253 and level[60:470, 345:356].min() >= 253
    assert level[100, 100] == pytest.approx(ground[100, 100], abs=2)  # white paper there: 255 - (255 - ground)


@pytest.mark.parametrize(("turn_deg", "seed"), [(0, None), (90, 1), (37, 2), (205, 3)])
def test_panels_on_it_are_found_in_order(turn_deg, seed):
    found = find_panels(page_on(changing(turn_deg), seed))
    corners = [[round(float(v)) for v in polygon.min(axis=0)] for polygon in found.panels]
    assert np.array(corners) == pytest.approx(np.array([frame[:2] for frame in FRAMES]), abs=5)


def test_panels_of_a_strip_whose_ground_changes_on_the_way_down_are_found():
    stops = np.interp(np.arange(2600), [0, 900, 1700, 2600], [250, 120, 40, 180])
    gray = np.repeat(stops[:, None], 700, axis=1)
    for top in (60, 700, 1340, 1980):
        cv2.rectangle(gray, (60, top), (640, top + 500), 255, -1)
        cv2.rectangle(gray, (60, top), (640, top + 500), 15, 4)
        cv2.ellipse(gray, (350, top + 250), (90, 140), 0, 0, 360, 15, 4)
    found = find_panels(gray.round().astype(np.uint8))
    assert [round(float(polygon[:, 1].min())) for polygon in found.panels] == pytest.approx([60, 700, 1340, 1980], abs=5)


def test_a_drawing_that_fills_its_page_has_no_ground():
    sky = changing(90)
    cv2.ellipse(sky, (350, 500), (200, 300), 0, 0, 360, 60, -1)
    gray = sky.round().astype(np.uint8)
    assert level_ground(gray) is gray


@pytest.mark.parametrize("gray", [np.full((HEIGHT, WIDTH), 200, np.uint8), np.zeros((3, 2), np.uint8),
                                  np.random.default_rng(0).integers(0, 256, (HEIGHT, WIDTH)).astype(np.uint8)],
                         ids=["one tone", "tiny", "noise"])
def test_without_a_slow_change_along_the_rim_nothing_is_done(gray):
    assert level_ground(gray) is gray
