"""A line is looked for among the points of a picture: what is shown is told by how much and where, and chance is no line."""

import cv2
import numpy as np
import pytest

from board.vision.line_evidence import LineEvidence

LINE = np.array([100.0, 200, 300, 260])


def points_of(line, *, gaps=()):
    """Points and directions, one for every px along a line; `gaps` are shares of it that are missing."""
    start, step = line[:2], line[2:] - line[:2]
    share = (np.arange(int(np.hypot(*step))) + 0.5) / np.hypot(*step)
    for low, high in gaps:
        share = share[(share < low) | (share > high)]
    return start + share[:, None] * step, np.full(len(share), np.arctan2(step[1], step[0]))


def turned(line, degrees, aside=0.0):
    middle, half = line.reshape(2, 2).mean(0), (line[2:] - line[:2]) / 2
    right = np.array([-half[1], half[0]]) / np.hypot(*half)
    cos, sin = np.cos(np.radians(degrees)), np.sin(np.radians(degrees))
    half = np.array([[cos, -sin], [sin, cos]]) @ half
    return np.concatenate([middle + aside * right - half, middle + aside * right + half])


@pytest.mark.parametrize(("degrees", "aside"), [(6.0, 0.0), (-8.5, 4.0), (3.0, -7.0)])
def test_what_is_shown_is_told_by_its_turn_and_by_how_far_aside_it_lies(degrees, aside):
    evidence = LineEvidence(*points_of(turned(LINE, degrees, aside)), step_px=1.0)
    shown = evidence.shown_near(LINE, 12.0, 2.5, 14.0)
    assert shown.turn_deg == pytest.approx(degrees, abs=0.5)
    assert shown.aside_px == pytest.approx(aside, abs=1.0)
    assert shown.filled > 0.95 and shown.false_alarms < -50
    assert np.abs(shown.line - turned(LINE, degrees, aside)).max() < 6


def test_a_line_turned_by_less_than_is_asked_for_is_not_the_one():
    evidence = LineEvidence(*points_of(turned(LINE, 6.0)), step_px=1.0)
    assert evidence.shown_near(LINE, 12.0, 0.0, 1.0).false_alarms > 0.5 * evidence.shown_near(LINE, 12.0, 2.5, 14.0).false_alarms


def test_where_part_is_missing_the_line_goes_as_far_as_it_is_shown():
    evidence = LineEvidence(*points_of(LINE, gaps=[(0.5, 1.0)]), step_px=1.0)
    shown = evidence.shown_near(LINE, 12.0, 0.0, 1.0)
    assert shown.share == pytest.approx(0.5, abs=0.05)
    assert shown.line[2] == pytest.approx(200, abs=6)


def test_points_in_disorder_and_points_that_head_elsewhere_are_no_line():
    rng = np.random.default_rng(3)
    points = rng.uniform([60, 150], [340, 320], (1500, 2))
    disorder = LineEvidence(points, rng.uniform(0, np.pi, 1500), 1.0).shown_near(LINE, 12.0, 2.5, 14.0)
    assert disorder.false_alarms > -4
    on_line, along = points_of(LINE)
    assert LineEvidence(on_line, along + np.pi / 2, 1.0).shown_near(LINE, 12.0, 0.0, 14.0) is None
    assert LineEvidence(np.zeros((0, 2)), np.zeros(0), 1.0).shown_near(LINE, 12.0, 0.0, 14.0) is None


@pytest.mark.parametrize("has_tones", [False, True])
def test_a_picture_shows_its_strokes_and_the_edges_of_its_tones_where_it_is_placed(has_tones):
    gray = np.full((200, 260), 235, np.uint8)
    if has_tones:
        cv2.fillPoly(gray, [np.array([[0, 60], [260, 120], [260, 200], [0, 200]])], 200)
    else:
        cv2.line(gray, (0, 60), (260, 120), 90, 2, cv2.LINE_AA)
    turned_back = np.radians(-5.0)
    S = np.array([[np.cos(turned_back), -np.sin(turned_back), 0.03], [np.sin(turned_back), np.cos(turned_back), 0.2], [0, 0, 1]])
    S[:2] *= 1.5
    ends = np.array([[65.0, 75], [195, 105]]) @ S[:2, :2].T + S[:2, 2]
    shown = LineEvidence.of_picture(gray, S).shown_near(turned(ends.ravel(), 6.0), 12.0, 2.5, 14.0)
    assert shown.turn_deg == pytest.approx(-6.0, abs=0.5)
    assert abs(shown.aside_px) < 2.5 and shown.filled > 0.9
