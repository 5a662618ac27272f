"""The 60° cone of vision: what stands wholly outside it, for a camera that is known exactly."""

from dataclasses import replace

import numpy as np
import pytest

from board.vision.camera import camera_from_angles
from board.vision.perspective import Perspective, solve_perspective
from board.vision.vision_cone import find_outside_cone

SIZE = 1600, 1000
FOCAL_PX = 600.0
CAMERA = camera_from_angles(FOCAL_PX, SIZE, yaw_deg=20)


def edges_of_box(corner: tuple[float, float, float], size: tuple[float, float, float]) -> np.ndarray:
    """(12, 4) px: the edges of an upright box as the camera sees them."""
    low, long = np.array(corner), np.array(size)
    ends = [[low + long * np.insert([a, b], axis, k) for k in (0, 1)] for axis in range(3) for a in (0, 1) for b in (0, 1)]
    return np.array([CAMERA.project(np.array(edge)).ravel() for edge in ends])


ROOM = np.concatenate([edges_of_box((x, -1.5, z), (0.8, 1.2, 0.8)) for x, z in ((1, -6), (2.5, -8), (0.5, -9), (4, -9), (2, -5))])
FAR_OUT = edges_of_box((-1.35, -0.6, -2.1), (0.25, 0.5, 0.25))


def solved(segments: np.ndarray) -> Perspective:
    perspective = solve_perspective(segments, SIZE)
    assert isinstance(perspective, Perspective)
    return perspective


def found(segments: np.ndarray, perspective: Perspective, tolerance_deg: float = 10.0):
    return find_outside_cone(segments, np.arange(len(segments)), perspective, SIZE, tolerance_deg=tolerance_deg)


def test_a_thing_far_out_is_told_with_its_angle_and_stretch() -> None:
    segments = np.concatenate([ROOM, FAR_OUT])
    outside = found(segments, solved(segments))
    assert outside is not None
    assert set(outside.segments) == set(range(len(ROOM), len(segments)))
    far_px = np.hypot(*(FAR_OUT.reshape(-1, 2).mean(0) - np.array(SIZE) / 2))
    assert outside.angle_deg == pytest.approx(np.degrees(np.arctan(far_px / FOCAL_PX)), abs=1.5)
    assert outside.stretch == pytest.approx(np.hypot(far_px, FOCAL_PX) / FOCAL_PX, rel=0.03)
    assert outside.cone_radius_px == pytest.approx(FOCAL_PX * np.tan(np.radians(30)), rel=0.05)
    # From there it would stand on the cone's very edge.
    assert np.degrees(np.arctan(far_px / outside.distance_px)) == pytest.approx(30, abs=0.1)


def test_what_stands_within_the_tolerance_is_not_told() -> None:
    segments = np.concatenate([ROOM, FAR_OUT])
    assert found(segments, solved(segments), tolerance_deg=30.0) is None
    assert found(ROOM, solved(ROOM)) is None


def test_an_unseen_or_unsure_distance_of_the_eye_tells_nothing() -> None:
    segments = np.concatenate([ROOM, FAR_OUT])
    perspective = solved(segments)
    assert found(segments, replace(perspective, focal_px=None, focal_interval=None)) is None
    assert found(segments, replace(perspective, focal_interval=(300.0, 700.0))) is None


def test_parallel_strokes_are_no_thing() -> None:
    strokes = np.array([[60.0 + 9 * k, 300, 60 + 9 * k, 420] for k in range(8)])
    segments = np.concatenate([ROOM, strokes])
    perspective = solved(ROOM)
    upright = max(perspective.vanishing_points, key=lambda p: p.role == "upright")
    with_strokes = replace(upright, members=np.concatenate([upright.members, np.arange(len(ROOM), len(segments))]))
    points = tuple(with_strokes if p is upright else p for p in perspective.vanishing_points)
    assert found(segments, replace(perspective, vanishing_points=points)) is None
