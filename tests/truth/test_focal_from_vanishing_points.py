"""Focal length from vanishing points, against the single view metrology exercise of Stanford CS231A (points clicked in a
photograph; its calibrated camera is fx 2448, fy 2438, principal point (1253, 986)) and the formula f² = -(v1 - p) · (v2 - p)."""

import numpy as np
import pytest

from board.vision.camera import (
    camera_from_angles,
    camera_of_three_points,
    focal_from_two_points,
    tilt_deg_from_horizon,
    upright_distance_px,
)

POINTS = np.array([(4545.26, 50.85), (-708.13, -129.62), (1190.61, 6460.27)])
CALIBRATED_PRINCIPAL = np.array([1253.0, 986.0])
CALIBRATED_FOCAL = 2443.0


def test_three_points_give_focal_length_and_principal_point():
    focal, principal = camera_of_three_points(POINTS)
    assert focal == pytest.approx(2369.0, abs=0.1)
    assert principal == pytest.approx([1379.5, 963.0], abs=0.1)


@pytest.mark.parametrize(("pair", "focal"), [((0, 1), 2326.6), ((0, 2), 2307.5), ((1, 2), 2446.4)])
def test_two_points_and_a_principal_point_give_the_focal_length(pair, focal):
    measured = focal_from_two_points(POINTS[pair[0]], POINTS[pair[1]], CALIBRATED_PRINCIPAL)
    assert measured == pytest.approx(focal, abs=0.1)
    assert measured == pytest.approx(CALIBRATED_FOCAL, rel=0.06)  # clicked points carry some 3 to 6 %


def test_no_camera_sees_right_angled_points_on_one_side():
    assert focal_from_two_points(np.array([300.0, 0.0]), np.array([900.0, 0.0]), np.zeros(2)) is None


def test_three_points_in_a_line_give_no_camera():
    assert camera_of_three_points(np.array([(0, 0), (100, 10), (200, 20.0)])) is None


@pytest.mark.parametrize("pitch_deg", [-35, -10, 5, 20])
def test_tilt_follows_from_the_horizon_and_the_uprights_meet_on_the_other_side(pitch_deg):
    camera = camera_from_angles(800, (0, 0), pitch_deg=pitch_deg)
    horizon_y = -camera.horizon()[2]
    point = camera.vanishing_point([0, 1, 0])
    assert tilt_deg_from_horizon(abs(horizon_y), 800) == pytest.approx(abs(pitch_deg))
    assert point[1] / point[2] == pytest.approx(-np.sign(horizon_y) * upright_distance_px(abs(horizon_y), 800))
