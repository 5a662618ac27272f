"""Strips that are read by scrolling: many panels one after the other, each as large as on a page."""

import cv2
import numpy as np
import pytest

from board.vision.page_piece import PieceScale, page_side_px
from board.vision.panel_frames import find_panels
from tests.vision.test_panel_frames import matches

WIDTH = 600
PLACES = ((0.08, 0.92, 400), (0.0, 1.0, 700), (0.08, 0.55, 300), (0.3, 0.95, 550))  # left, right; height, px


def draw_strip(height_px, words=""):
    """A strip of bleeding and floating panels and what is spoken between them; the panels' corners."""
    gray, panels, top = np.full((height_px, WIDTH), 255, np.uint8), [], 60
    while True:
        left, right, high = PLACES[len(panels) % len(PLACES)]
        if top + high > height_px - 60:
            return gray, panels
        (x0, x1), bottom = (int(left * (WIDTH - 1)), int(right * (WIDTH - 1))), top + high
        cv2.rectangle(gray, (x0, top), (x1, bottom), 20, 3)
        cv2.ellipse(gray, ((x0 + x1) // 2, top + high // 2), (70, 100), 0, 0, 360, 20, 3, cv2.LINE_AA)
        panels.append(np.array([(x0, top), (x1, top), (x1, bottom), (x0, bottom)], float))
        for line in range(3 if words else 0):
            cv2.putText(gray, words, (150, bottom + 70 + 28 * line), cv2.FONT_HERSHEY_SIMPLEX, 0.7, 20, 2, cv2.LINE_AA)
        top = bottom + 200


@pytest.mark.parametrize("words", ["", "NOBODY TOLD ME THAT"])
@pytest.mark.parametrize("height_px", [3000, 7200])
def test_every_panel_of_a_strip_is_found_and_read_downwards(height_px, words):
    gray, drawn = draw_strip(height_px, words)
    layout = find_panels(gray)
    assert matches(drawn, layout.panels, gray.shape, 0.9) == [(k, k) for k in range(len(drawn))]
    assert len(layout.panels) == len(drawn) and not layout.order_doubtful


def test_a_wide_strip_is_found_too():
    gray, drawn = draw_strip(4000)
    assert len(find_panels(np.ascontiguousarray(gray.T)).panels) == len(drawn)


@pytest.mark.parametrize(("shape", "side"), [((1400, 900), 1400), ((900, 1400), 1400), ((9000, 800), 1600), ((500, 4000), 1000)])
def test_a_strip_is_measured_by_its_shorter_side(shape, side):
    assert page_side_px(shape) == side
    scale = PieceScale.of(shape)
    assert (scale.longer_px, scale.area_px) == (side, side * min(shape))
