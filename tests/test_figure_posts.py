"""Posts on the floor: one table of exact pinhole posts and of places where none can stand."""

import json
from pathlib import Path

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from board.figure_posts import Post, PostView, height_at, post_at
from board.not_measured import NotMeasured
from board.vision.camera import camera_from_angles
from board.vision.figure_heights import height_from_eye_level, top_from_height

VECTORS = json.loads((Path(__file__).parent / "vectors" / "figure_posts.json").read_text())
NEAR = {"abs": 1e-5, "rel": 1e-7}
UP = np.array([0.0, 1.0, 0.0])


def rows(name):
    return pytest.mark.parametrize("row", VECTORS[name], ids=lambda row: row["name"])


def view_of(row) -> PostView:
    return PostView(tuple(row["horizon"]), row["eye_height_m"], tuple(row["upright"]) if row["upright"] else None)


@rows("posts")
def test_a_post_reaches_where_the_camera_sees_its_top(row):
    post = post_at(tuple(row["foot"]), row["height_m"], view_of(row), floor_m=row["floor_m"])
    assert isinstance(post, Post)
    assert (post.foot, post.top) == (pytest.approx(tuple(row["foot"])), pytest.approx(tuple(row["top"]), **NEAR))
    assert post.ticks == ()


@rows("posts")
def test_a_tick_stands_at_every_whole_head_below_the_top(row):
    post = post_at(tuple(row["foot"]), row["height_m"], view_of(row), heads=row["heads"], floor_m=row["floor_m"])
    assert [tick.number for tick in post.ticks] == list(range(1, len(row["ticks"]) + 1))
    assert np.array([tick.middle for tick in post.ticks]) == pytest.approx(np.array(row["ticks"]), **NEAR)


@rows("posts")
def test_ticks_run_square_across_the_post(row):
    post = post_at(tuple(row["foot"]), row["height_m"], view_of(row), heads=row["heads"], floor_m=row["floor_m"])
    along = np.array(post.top) - post.foot
    for tick in post.ticks:
        across = np.array(tick.ends[1]) - tick.ends[0]
        assert across @ along == pytest.approx(0, abs=1e-6 * np.linalg.norm(across) * np.linalg.norm(along))
        assert np.mean(tick.ends, 0) == pytest.approx(tick.middle)


@rows("posts")
def test_a_height_is_read_back_from_foot_and_top(row):
    measured = height_at(tuple(row["foot"]), tuple(row["top"]), view_of(row), row["floor_m"])
    assert measured == pytest.approx(row["height_m"], rel=1e-6)


@rows("no_post")
def test_where_no_post_can_stand_it_says_why(row):
    post = post_at(tuple(row["foot"]), row["height_m"], view_of(row), heads=7.0, floor_m=row["floor_m"])
    assert post == NotMeasured(row["reason"])


@rows("heights")
def test_a_height_is_read_along_the_upright(row):
    measured = height_at(tuple(row["foot"]), tuple(row["top"]), view_of(row), row["floor_m"])
    assert measured == pytest.approx(row["height_m"], **NEAR)


@rows("no_height")
def test_where_no_height_can_be_read_it_says_why(row):
    measured = height_at(tuple(row["foot"]), tuple(row["top"]), view_of(row), row["floor_m"])
    assert measured == NotMeasured(row["reason"])


@pytest.mark.parametrize("heads", [None, 0.0, -3.0, 0.8, 1.0])
def test_a_post_without_whole_heads_has_no_ticks(heads):
    assert post_at((300.0, 700.0), 1.7, PostView((0.0, 1.0, -400.0), 1.6), heads=heads).ticks == ()


@pytest.mark.parametrize("bad", [float("nan"), float("inf")])
def test_numbers_that_are_none_stand_nowhere(bad):
    view = PostView((0.0, 1.0, -400.0), 1.6)
    assert isinstance(post_at((bad, 700.0), 1.7, view), NotMeasured)
    assert isinstance(post_at((300.0, 700.0), bad, view), NotMeasured)
    assert isinstance(post_at((300.0, 700.0), 1.7, PostView((0.0, bad, -400.0), 1.6)), NotMeasured)
    assert isinstance(post_at((300.0, 700.0), 1.7, PostView((0.0, 1.0, -400.0), bad)), NotMeasured)


@given(height=st.floats(0.1, 3), x=st.floats(-3, 3), away=st.floats(3, 40), pitch=st.floats(-20, 20), roll=st.floats(-10, 10),
       eye=st.floats(0.3, 4))
def test_posts_agree_with_the_measuring_of_heights(height, x, away, pitch, roll, eye):
    assume(abs(pitch) > 0.01)
    camera = camera_from_angles(900.0, (1200, 800), pitch_deg=pitch, roll_deg=roll)
    foot = camera.project(np.array([[x, -eye, -away]]))[0]
    horizon, upright = camera.horizon(), camera.vanishing_point(UP)
    top = top_from_height(foot, height, horizon, eye, upright)
    post = post_at(tuple(foot), height, PostView(tuple(horizon), eye, tuple(upright)))
    assert post.top == pytest.approx(tuple(top), rel=1e-6, abs=1e-6)
    assert height_at(post.foot, post.top, PostView(tuple(horizon), eye, tuple(upright))) == pytest.approx(
        height_from_eye_level(foot, top, horizon, eye, upright), rel=1e-6)
