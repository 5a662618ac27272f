"""What is a gutter and what a line of the drawing, where borders are drawn loosely."""

import cv2
import numpy as np
import pytest

from board.vision.panel_frames import find_panels

BOXES = ((60, 60, 440, 560), (460, 60, 840, 560), (60, 580, 440, 1140), (460, 580, 840, 1140))


def loose_page(past_px, hatched=False, gutter=20):
    """Four panels whose border strokes run on past the corners; all borders are joined where that is more than the gutter."""
    gray = np.full((1200, 900), 250, np.uint8)
    for left, top, right, bottom in BOXES:
        left, top = (edge + (20 - gutter if edge > 60 else 0) for edge in (left, top))
        if hatched:
            for x in range(left - 600, right, 14):
                clipped, a, b = cv2.clipLine((left, top, right - left, bottom - top), (x, bottom), (x + 600, top))
                if clipped:
                    cv2.line(gray, a, b, 90, 1)
        cv2.circle(gray, ((left + right) // 2, (top + bottom) // 2), 70, 60, 3)
        for a, b in (((left - past_px, top), (right + past_px, top)), ((left - past_px, bottom), (right + past_px, bottom)),
                     ((left, top - past_px), (left, bottom + past_px)), ((right, top - past_px), (right, bottom + past_px))):
            cv2.line(gray, a, b, 60, 3)
    return gray


@pytest.mark.parametrize(("past_px", "gutter"), [(0, 20), (12, 20), (30, 20), (14, 10)])
def test_a_gutter_is_found_whether_borders_cross_it_or_not(past_px, gutter):
    panels = find_panels(loose_page(past_px, gutter=gutter)).panels
    assert len(panels) == 4
    for panel, (left, top, right, bottom) in zip(panels, BOXES, strict=True):
        assert np.abs(panel.max(axis=0) - (right, bottom)).max() <= 6
        assert np.abs(panel.min(axis=0) - (left, top)).max() <= 16


@pytest.mark.parametrize("past_px", [0, 12])
def test_hatching_is_no_gutter(past_px):
    assert len(find_panels(loose_page(past_px, hatched=True)).panels) == 4
