"""Slopes of roofs in a row are known by each other; an edge that is off alone is none."""

import numpy as np
import pytest

from board.vision.camera import camera_from_angles
from board.vision.perspective import VanishingPoint
from board.vision.roof_slopes import are_slopes
from tests.vision.seen_world import SIZE

CAMERA = camera_from_angles(1100, SIZE, yaw_deg=35)
DIAGONAL_PX = float(np.hypot(*SIZE))
AXES = {"level": [1.0, 0, 0], "upright": [0, 1.0, 0]}
POINTS = [VanishingPoint(CAMERA.K @ CAMERA.R_world_to_camera @ np.array(axis), role, np.arange(9), 1.0)
          for role, axis in AXES.items()]
RISE = np.array([1.0, -0.6, 0])


def slope(foot, turned_deg=0.0):
    """(4,) px of a slope from its foot, perhaps turned about its middle."""
    ends = CAMERA.project(np.array([foot, foot + RISE]))
    middle, half = ends.mean(0), (ends[1] - ends[0]) / 2
    cos, sin = np.cos(np.radians(turned_deg)), np.sin(np.radians(turned_deg))
    half = np.array([[cos, -sin], [sin, cos]]) @ half
    return np.concatenate([middle - half, middle + half])


@pytest.mark.parametrize("beyond_m", [0.6, 1.0])
def test_two_roofs_in_a_row_tell_each_other(beyond_m):
    row = np.array([slope(np.array([-1.0, -1.0, -6.0])), slope(np.array([-1.0 + beyond_m, -1.0, -6.0 - beyond_m]))])
    assert are_slopes(row, POINTS, DIAGONAL_PX).all()


def test_one_alone_and_one_that_is_turned_are_none():
    first = np.array([-1.0, -1.0, -6.0])
    assert not are_slopes(slope(first)[None], POINTS, DIAGONAL_PX).any()
    assert not are_slopes(np.array([slope(first), slope(first + [0.8, 0, -0.8], turned_deg=5.0)]), POINTS, DIAGONAL_PX).any()


def test_far_apart_and_without_uprights_nothing_is_told():
    row = np.array([slope(np.array([-1.0, -1.0, -6.0])), slope(np.array([-0.2, -1.0, -6.8]))])
    assert not are_slopes(row, POINTS, DIAGONAL_PX / 50).any()
    assert not are_slopes(row, POINTS[:1], DIAGONAL_PX).any()
