"""Heights hung on the eye level."""

import numpy as np
import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st

from board.vision.camera import camera_from_angles
from board.vision.figure_heights import height_from_eye_level, top_from_height

UP = np.array([0.0, 1.0, 0.0])


@given(height=st.floats(0.1, 9), x=st.floats(-3, 3), away=st.floats(3, 40), pitch=st.floats(-30, 15), roll=st.floats(-10, 10))
@example(height=9.0, x=0.0, away=3.0, pitch=-30.0, roll=0.0)  # its top is behind the viewer
@example(height=6.7, x=0.0, away=3.0, pitch=-30.0, roll=10.0)  # and here just before
def test_a_post_seen_by_any_camera_has_its_own_height(height, x, away, pitch, roll):
    camera = camera_from_angles(900.0, (1200, 800), pitch_deg=pitch, roll_deg=roll)
    post = np.array([[x, -1.6, -away], [x, height - 1.6, -away]])
    foot, top = camera.project(post)
    top_ahead_m = float((camera.R_world_to_camera @ post[1])[2])
    assume(abs(top_ahead_m) > 1e-3)
    if top_ahead_m < 0:
        with pytest.raises(ValueError, match="behind the viewer"):
            height_from_eye_level(foot, top, camera.horizon(), 1.6, camera.vanishing_point(UP))
        return
    measured = height_from_eye_level(foot, top, camera.horizon(), 1.6, camera.vanishing_point(UP))
    assert measured == pytest.approx(height, rel=1e-6)


@given(height=st.floats(0.1, 9), pitch=st.floats(-30, 15).filter(lambda p: abs(p) > 0.01), roll=st.floats(-10, 10))
def test_a_top_drawn_from_a_height_is_read_back(height, pitch, roll):
    camera = camera_from_angles(900.0, (1200, 800), pitch_deg=pitch, roll_deg=roll)
    foot = camera.project(np.array([[1.0, -1.6, -7.0]]))[0]
    top = top_from_height(foot, height, camera.horizon(), 1.6, camera.vanishing_point(UP))
    assert height_from_eye_level(foot, top, camera.horizon(), 1.6, camera.vanishing_point(UP)) == pytest.approx(height)


def test_with_parallel_uprights_a_top_drawn_from_a_height_is_read_back():
    foot, horizon = np.array([300.0, 700.0]), np.array([0.0, 1.0, -400.0])
    assert top_from_height(foot, 1.6, horizon, 1.6) == pytest.approx([300, 400])
    assert height_from_eye_level(foot, top_from_height(foot, 2.2, horizon, 1.6), horizon, 1.6) == pytest.approx(2.2)


def test_an_unscaled_horizon_measures_the_same():
    horizon, foot, top = np.array([0.05, 1.0, -400.0]), (300, 700), (310, 380)
    assert height_from_eye_level(foot, top, -7 * horizon, 1.6) == pytest.approx(height_from_eye_level(foot, top, horizon, 1.6))


def test_a_foot_on_the_eye_level_has_no_height():
    with pytest.raises(ValueError, match="foot stands on the eye level"):
        height_from_eye_level((300, 400), (300, 300), (0, 1, -400), 1.6)


def test_uprights_that_meet_on_the_eye_level_have_no_height():
    with pytest.raises(ValueError, match="uprights meet on the eye level"):
        height_from_eye_level((300, 500), (300, 300), (0, 1, -400), 1.6, np.array([10.0, 400.0, 1.0]))


def test_a_post_that_reaches_past_the_viewer_has_no_top():
    camera = camera_from_angles(900.0, (1200, 800), pitch_deg=-30)
    foot = camera.project(np.array([[0.0, -1.6, -3.0]]))[0]
    assert top_from_height(foot, 6.7, camera.horizon(), 1.6, camera.vanishing_point(UP))[1] < foot[1]
    with pytest.raises(ValueError, match="past the viewer"):
        top_from_height(foot, 9.0, camera.horizon(), 1.6, camera.vanishing_point(UP))
