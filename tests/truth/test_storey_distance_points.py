"""Distance points and viewing angles of G. A. Storey, The Theory and Practice of Perspective (1910), figures 14-15, 86, 92, 94."""

import numpy as np
import pytest

from board.vision.camera import camera_from_angles, depth_by_distance_point, field_of_view_deg_of_lens, viewing_distance

STOREY_DEPTHS = [(4, 4, 16), (50, 16, 800), (110, 4, 440), (110, 8, 880), (110, 16, 1760)]  # base, n of the 1/n point, depth; feet


@pytest.mark.parametrize(("base", "share", "depth"), STOREY_DEPTHS)
def test_a_reduced_distance_point_measures_depth(base, share, depth):
    assert depth_by_distance_point(base, share) == depth


@pytest.mark.parametrize(("base", "share", "depth"), STOREY_DEPTHS)
def test_our_camera_draws_that_depth_where_the_construction_has_it(base, share, depth):
    """On the ground line, a line from the base's far end to the 1/n distance point crosses the sight line at the depth."""
    focal, eye = 1000.0, 1.6
    camera = camera_from_angles(focal, (0, 0))
    point = camera.project(np.array([[0.0, -eye, -(focal + depth)]]))[0]
    on_ground_line, distance_point = np.array([-base, eye]), np.array([focal / share, 0.0])
    along = (0 - on_ground_line[0]) / (distance_point[0] - on_ground_line[0])
    crossing = on_ground_line + along * (distance_point - on_ground_line)
    assert point == pytest.approx(crossing, rel=1e-9)


@pytest.mark.parametrize(("angle_deg", "lengths"), [(60, 0.866), (28, 2.005)])
def test_a_viewing_angle_sets_the_distance_in_lengths_of_the_picture(angle_deg, lengths):
    assert viewing_distance(1.0, angle_deg) == pytest.approx(lengths, abs=5e-4)
    assert field_of_view_deg_of_lens(viewing_distance(1.0, angle_deg), 1.0) == pytest.approx(angle_deg)
