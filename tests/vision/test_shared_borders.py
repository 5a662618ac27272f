"""Panels without a gutter between them share a border that a hand ruled."""

import cv2
import numpy as np
import pytest

from board.vision.panel_frames import find_panels


def waved(gray, a, b, waves_px, value=60):
    """A stroke as a hand rules it."""
    a, b, t = np.array(a, float), np.array(b, float), np.linspace(0, 1, 300)[:, None]
    across = np.array([a[1] - b[1], b[0] - a[0]]) / np.hypot(*(b - a))
    path = a + t * (b - a) + waves_px * np.sin(t * 20) * across
    cv2.polylines(gray, [np.round(path * 16).astype(np.int32)], False, value, 3, cv2.LINE_AA, 4)


def page(waves_px, has_balloon, value=60):
    """Four panels in one frame; the border between the lower two strays by `waves_px`, and has a `value`."""
    gray = np.full((1300, 900), 250, np.uint8)
    corners = ((60, 60), (840, 60), (840, 1240), (60, 1240))
    for a, b in (*zip(corners, corners[1:] + corners[:1], strict=True), ((60, 640), (840, 640)), ((450, 60), (450, 640))):
        waved(gray, a, b, 0.5)
    waved(gray, (450, 640), (450, 1240), waves_px, value)
    for middle in ((200, 300), (200, 900), (650, 300), (650, 900)):
        cv2.circle(gray, middle, 70, 60, 3)
    if has_balloon:
        cv2.ellipse(gray, (470, 700), (90, 28), 0, 0, 360, 250, -1)
        cv2.ellipse(gray, (470, 700), (90, 28), 0, 0, 360, 60, 2)
        cv2.putText(gray, "NOT TODAY", (400, 708), cv2.FONT_HERSHEY_SIMPLEX, 0.75, 60, 2)
    return gray


@pytest.mark.parametrize("has_balloon", [False, True])
@pytest.mark.parametrize(("waves_px", "count"), [(0.5, 4), (0.8, 4), (1.2, 3)])
def test_a_border_is_as_straight_beside_a_balloon_as_without_one(waves_px, count, has_balloon):
    assert len(find_panels(page(waves_px, has_balloon)).panels) == count


@pytest.mark.parametrize(("value", "count"), [(60, 4), (68, 3)])
def test_a_stroke_that_is_paler_than_the_frame_is_no_border_of_two_panels(value, count):
    assert len(find_panels(page(0.5, False, value)).panels) == count


def test_a_tier_of_many_panels_is_parted_at_every_one_of_their_borders():
    gray = np.full((1300, 900), 250, np.uint8)
    for x in (60, 220, 360, 540, 700, 840):
        waved(gray, (x, 60), (x, 1240), 0.5)
    for y in (60, 420, 1240):
        waved(gray, (60, y), (840, y), 0.5)
    assert len(find_panels(gray).panels) == 10
