"""Heights hung on the horizon, against an exact pinhole camera (derived) and G. A. Storey, The Theory and Practice of Perspective
(1910), chapter XXVIII, and Leonardo da Vinci, Notebooks (tr. Richter, 1888), §99-100, 541.

The camera: focal length 1000 px, principal point (0, 0), y down, eye 1.60 m over the ground.
"""

import numpy as np
import pytest

from board.vision.camera import camera_from_angles
from board.vision.figure_heights import height_from_eye_level

EYE_M = 1.60
UP = np.array([0.0, 1.0, 0.0])
# height m, x m, distance m; foot and top y in px seen level; the same seen 10° down.
POSTS = [
    (1.75, -0.5, 4, 400.0, -37.5, 208.937, -215.250),
    (1.75, 1.0, 8, 200.0, -18.75, 22.867, -195.724),
    (1.20, 0.0, 12, 133.333, 33.333, -42.006, -142.158),
    (2.03, 2.0, 4, 400.0, -107.5, 208.937, -289.311),
]
HORIZON_10_DOWN = np.array([0.0, 1.0, 176.327])
UPRIGHTS_10_DOWN = np.array([0.0, 5671.282, 1.0])


@pytest.mark.parametrize(("height", "x", "away", "foot_y", "top_y", "foot_y_down", "top_y_down"), POSTS)
def test_a_level_camera_shows_each_height(height, x, away, foot_y, top_y, foot_y_down, top_y_down):
    column = 1000 * x / away
    assert height_from_eye_level((column, foot_y), (column, top_y), (0, 1, 0), EYE_M) == pytest.approx(height, abs=1e-4)


@pytest.mark.parametrize(("height", "x", "away", "foot_y", "top_y", "foot_y_down", "top_y_down"), POSTS)
def test_a_camera_that_looks_down_shows_each_height_by_the_upright_point(height, x, away, foot_y, top_y, foot_y_down, top_y_down):
    measured = height_from_eye_level((0, foot_y_down), (0, top_y_down), HORIZON_10_DOWN, EYE_M, UPRIGHTS_10_DOWN)
    assert measured == pytest.approx(height, abs=1e-4)


@pytest.mark.parametrize(("row", "by_the_plain_rule"), list(enumerate([1.7616, 1.7558, 1.1930, 2.0692])))
def test_the_plain_rule_fails_for_a_camera_that_looks_down(row, by_the_plain_rule):
    height, *_, foot_y, top_y = POSTS[row]
    plain = height_from_eye_level((0, foot_y), (0, top_y), HORIZON_10_DOWN, EYE_M)
    assert plain == pytest.approx(by_the_plain_rule, abs=1e-4)
    assert plain != pytest.approx(height, abs=1e-3)


@pytest.mark.parametrize(("height", "x", "away", "foot_y", "top_y", "foot_y_down", "top_y_down"), POSTS)
def test_our_camera_draws_the_posts_where_the_table_has_them(height, x, away, foot_y, top_y, foot_y_down, top_y_down):
    post = np.array([[x, -EYE_M, -away], [x, height - EYE_M, -away]])
    level = camera_from_angles(1000, (0, 0)).project(post)
    down = camera_from_angles(1000, (0, 0), pitch_deg=-10).project(post)
    assert level[:, 1] == pytest.approx([foot_y, top_y], abs=1e-3)
    assert down[:, 1] == pytest.approx([foot_y_down, top_y_down], abs=1e-3)


def test_the_horizon_and_the_upright_point_stand_where_the_table_has_them():
    camera = camera_from_angles(1000, (0, 0), pitch_deg=-10)
    point = camera.vanishing_point(UP)
    assert camera.horizon() == pytest.approx([0, 1, 176.327], abs=1e-3)
    assert point[1] / point[2] == pytest.approx(5671.282, abs=1e-3)


@pytest.mark.parametrize("away", [4, 8, 40])
def test_equal_figures_are_cut_by_one_horizon_at_one_height(away):
    """Storey, chapter XXVIII: figures of one height on level ground, the eye at, over or under their heads."""
    for eye, share_above in ((1.75, 0.0), (1.60, 0.0857), (3.5, -1.0)):
        foot, top = camera_from_angles(1000, (0, 0)).project(np.array([[0, -eye, -away], [0, 1.75 - eye, -away]]))
        assert -top[1] / (foot[1] - top[1]) == pytest.approx(share_above, abs=1e-4)
        assert height_from_eye_level(foot, top, (0, 1, 0), eye) == pytest.approx(1.75)


@pytest.mark.parametrize(("away", "share"), [(4, 1 / 4), (8, 1 / 8), (16, 1 / 16)])
def test_size_falls_as_one_over_distance(away, share):
    """Leonardo, §100: what stands 4, 8 or 16 times as far as the picture is drawn at 1/4, 1/8, 1/16 of its size."""
    foot, top = camera_from_angles(1.0, (0, 0)).project(np.array([[0, 0, -away], [0, 1, -away]]))
    assert foot[1] - top[1] == pytest.approx(share)
