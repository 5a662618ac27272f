"""The camera example of the Khronos glTF 2.0 specification: yfov 0.660593 rad, aspect ratio 1.5; and OpenCV's projection."""

import cv2
import numpy as np
import pytest

from board.vision.camera import camera_from_gltf, field_of_view_deg_of_lens

YFOV_RAD, ASPECT = 0.660593, 1.5
SIZE = (1500, 1000)


def test_the_example_sees_37_849_degrees():
    camera = camera_from_gltf(YFOV_RAD, np.eye(3), SIZE)
    assert camera.field_of_view_deg(SIZE[1]) == pytest.approx(37.849, abs=5e-4)


def test_the_example_is_a_35_mm_lens_on_36_by_24_mm():
    assert field_of_view_deg_of_lens(35, 24) == pytest.approx(37.849, abs=5e-4)
    assert camera_from_gltf(YFOV_RAD, np.eye(3), SIZE).focal_px == pytest.approx(SIZE[0] * 35 / 36, rel=1e-4)


def test_a_node_at_rest_looks_along_minus_z_and_is_level():
    camera = camera_from_gltf(YFOV_RAD, np.eye(3), SIZE)
    assert camera.project(np.array([[0.0, 0.0, -5.0]]))[0] == pytest.approx([750, 500])
    right_and_up = camera.project(np.array([[1.0, 1.0, -5.0]]))[0]
    assert right_and_up[0] > 750
    assert right_and_up[1] < 500
    assert camera.horizon() == pytest.approx([0, 1, -500])
    assert (camera.pitch_deg, camera.roll_deg) == pytest.approx((0, 0))


@pytest.mark.parametrize("pitch_deg", [-25, 0, 12])
def test_a_node_turned_about_x_pitches_and_projects_as_opencv_does(pitch_deg):
    turn = cv2.Rodrigues(np.array([np.radians(pitch_deg), 0, 0]))[0]
    camera = camera_from_gltf(YFOV_RAD, turn, SIZE)
    points = np.array([[0.3, 0.2, -4], [-1, 0.7, -6], [2, -1, -9.0]])
    by_opencv = cv2.projectPoints(points, cv2.Rodrigues(camera.R_world_to_camera)[0], np.zeros(3), camera.K, None)[0].reshape(-1, 2)
    assert camera.pitch_deg == pytest.approx(pitch_deg)
    assert camera.project(points) == pytest.approx(by_opencv)
