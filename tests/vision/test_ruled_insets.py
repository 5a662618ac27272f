"""Insets drawn onto their host without a ring of paper."""

import cv2
import numpy as np
import pytest

from board.vision.page_piece import PieceScale
from board.vision.panel_frames import find_panels
from board.vision.ruled_insets import _long_strokes

INSET = (120, 700, 380, 900)


def host_page(is_full):
    """A tall panel over a row of two; on it a rectangle with a border like the panel's, full of drawing or bare."""
    gray = np.full((1300, 900), 250, np.uint8)
    for left, top, right, bottom in ((50, 50, 850, 950), (50, 980, 435, 1250), (465, 980, 850, 1250)):
        cv2.rectangle(gray, (left, top), (right, bottom), 30, 5)
    for x in range(120, 850, 180):
        cv2.line(gray, (x, 300), (x - 60, 950), 30, 2)
    left, top, right, bottom = INSET
    cv2.rectangle(gray, (left, top), (right, bottom), 250, -1)
    if is_full:
        for x in range(left + 30, right - 20, 16):
            cv2.line(gray, (x, top + 10 + x % 40), (x, bottom - 20), 30, 2)
    cv2.rectangle(gray, (left, top), (right, bottom), 30, 5)
    return gray


def test_an_inset_with_a_scene_of_its_own_is_a_panel_read_after_its_host():
    layout = find_panels(host_page(is_full=True))
    assert len(layout.panels) == 4 and all(layout.framed)
    inset = np.concatenate([layout.panels[1].min(axis=0), layout.panels[1].max(axis=0)])
    assert np.abs(inset - INSET).max() <= 6


def test_a_balloon_may_lie_over_a_corner_of_it():
    gray = host_page(is_full=True)
    cv2.ellipse(gray, (330, 690), (120, 50), 0, 0, 360, 250, -1)
    cv2.ellipse(gray, (330, 690), (120, 50), 0, 0, 360, 30, 3)
    cv2.putText(gray, "NOT TODAY", (255, 700), cv2.FONT_HERSHEY_SIMPLEX, 0.8, 30, 2)
    layout = find_panels(gray)
    inset = np.concatenate([layout.panels[1].min(axis=0), layout.panels[1].max(axis=0)])
    assert len(layout.panels) == 4 and np.abs(inset - INSET).max() <= 6


def test_a_bare_rectangle_is_a_part_of_the_drawing():
    assert len(find_panels(host_page(is_full=False)).panels) == 3


def test_one_that_holds_little_is_an_inset_by_its_border():
    gray = host_page(is_full=False)
    left, top, right, bottom = INSET
    for y in range(top + 30, bottom - 20, 45):
        cv2.line(gray, (left + 20, y), (right - 20, y), 30, 2)
    assert len(find_panels(gray).panels) == 4


def wavy_rectangle(gray, left, top, right, bottom, waves_px):
    """A border as a hand rules it."""
    corners = np.array([(left, top), (right, top), (right, bottom), (left, bottom)])
    for a, b in zip(corners, np.roll(corners, -1, axis=0), strict=True):
        along = np.linspace(0, 1, 200)[:, None]
        across = np.array([a[1] - b[1], b[0] - a[0]]) / np.hypot(*(b - a))
        path = a + along * (b - a) + waves_px * np.sin(along * 19) * across
        cv2.polylines(gray, [np.round(path * 16).astype(np.int32)], False, 30, 5, cv2.LINE_AA, 4)


def test_one_no_fuller_than_its_host_is_an_inset_where_its_border_strays_no_further():
    gray = np.full((1300, 900), 250, np.uint8)
    for box in ((50, 50, 850, 950), (50, 980, 435, 1250), (465, 980, 850, 1250)):
        wavy_rectangle(gray, *box, 2.0)
    left, top, right, bottom = INSET
    for x in range(200, 840, 120):
        cv2.line(gray, (x, 300), (x - 180, 945), 30, 2)
    gray[top:bottom, left:right] = 250
    wavy_rectangle(gray, *INSET, 0.95)
    for y in range(top + 30, bottom - 20, 45):
        cv2.line(gray, (left + 20, y), (right - 20, y), 30, 2)
    assert len(find_panels(gray).panels) == 4


@pytest.mark.parametrize(("widths", "panels"), [((5, 5, 5, 5), 4), ((5, 5, 5, 2), 3), ((9, 9, 9, 9), 3)])
def test_one_pen_draws_the_borders_of_an_inset_and_its_host(widths, panels):
    gray = host_page(is_full=True)
    left, top, right, bottom = INSET
    cv2.rectangle(gray, (left, top), (right, bottom), 250, 5)
    corners = [(left, top), (right, top), (right, bottom), (left, bottom)]
    for a, b, width in zip(corners, corners[1:] + corners[:1], widths, strict=True):
        cv2.line(gray, a, b, 30, width)
    assert len(find_panels(gray).panels) == panels


def test_what_a_bar_parts_about_its_middle_is_a_window():
    gray = host_page(is_full=True)
    left, top, right, bottom = INSET
    cv2.line(gray, ((left + right) // 2, top), ((left + right) // 2, bottom), 30, 4)
    assert len(find_panels(gray).panels) == 3


def test_sides_that_both_run_on_past_a_corner_close_a_larger_thing():
    gray = host_page(is_full=True)
    left, top, right, bottom = INSET
    for y in (top, bottom):
        cv2.line(gray, (left, y), (right + 90, y), 30, 5)
    assert len(find_panels(gray).panels) == 3


@pytest.mark.parametrize(("met", "panels"), [((), 4), ((0,), 4), ((0, 1, 2, 3), 3)])
def test_a_back_wall_whose_corners_the_edges_of_the_room_run_into_is_no_inset(met, panels):
    gray = host_page(is_full=False)
    left, top, right, bottom = INSET
    for y in range(top + 30, bottom - 20, 60):
        cv2.line(gray, (left + 20, y), (right - 20, y), 30, 2)
    for k in met:
        x, y, way = [(left, top, (-1, -1)), (right, top, (1, -1)), (right, bottom, (1, 1)), (left, bottom, (-1, 1))][k]
        cv2.line(gray, (x, y), (x + 55 * way[0], y + 40 * way[1]), 30, 3)
    assert len(find_panels(gray).panels) == panels


def test_what_the_lines_of_the_drawing_go_through_is_a_part_of_it():
    gray = host_page(is_full=True)
    left, top, right, bottom = INSET
    for x in range(left - 60, right, 26):
        cv2.line(gray, (x, top - 60), (x + 90, bottom + 40), 30, 3)
    assert len(find_panels(gray).panels) == 3


def test_a_level_stroke_is_found_where_a_beam_hangs_on_it_that_leans():
    dark = np.zeros((500, 600), np.uint8)
    cv2.line(dark, (100, 200), (400, 200), 1, 5)
    cv2.line(dark, (100, 202), (400, 226), 1, 9)
    (stroke,) = _long_strokes(dark, PieceScale(1300.0, 1300.0 * 900))
    assert np.abs(stroke - (100, 400, 200)).max() <= 15 and abs(stroke[2] - 200) <= 1
