"""Solving perspective: an exact camera is found again, noise makes it worse as it must, and what shows nothing is not measured."""

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from board.not_measured import NotMeasured
from board.vision.camera import camera_from_angles
from board.vision.given_perspective import GivenPerspective
from board.vision.perspective import Perspective, solve_perspective
from tests.vision.seen_world import SIZE, angle_between_deg, segments_of_boxes, with_hand_noise

AXES = np.eye(3)


def worst_miss_deg(perspective, camera):
    """The largest angle from one of the camera's three points to the nearest of those found."""
    return max(min(angle_between_deg(camera.vanishing_point(axis), found.point, camera.K) for found in perspective.vanishing_points)
               for axis in AXES)


@settings(max_examples=40, deadline=None)
@given(pitch=st.floats(8, 30), down=st.booleans(), roll=st.floats(-4, 4), yaw=st.floats(20, 70), focal=st.floats(700, 2200),
       seed=st.integers(0, 50))
@example(pitch=17.43, down=False, roll=0.0, yaw=20.0, focal=700.0, seed=0)  # under a coarser least noise it missed by 0.14°
def test_an_exact_tilted_camera_is_found_again(pitch, down, roll, yaw, focal, seed):
    camera = camera_from_angles(focal, SIZE, pitch_deg=-pitch if down else pitch, roll_deg=roll, yaw_deg=yaw)
    perspective = solve_perspective(segments_of_boxes(camera, seed), SIZE)
    assert isinstance(perspective, Perspective)
    assert worst_miss_deg(perspective, camera) < 0.1
    assert perspective.pitch_deg == pytest.approx(camera.pitch_deg, abs=0.1)
    assert perspective.roll_deg == pytest.approx(camera.roll_deg, abs=0.1)
    assert perspective.focal_px == pytest.approx(focal, rel=0.01)
    assert perspective.focal_interval[0] < focal < perspective.focal_interval[1]


@settings(max_examples=25, deadline=None)
@given(roll=st.floats(-3, 3), yaw=st.floats(20, 70), focal=st.floats(700, 2200), seed=st.integers(0, 50))
def test_an_exact_level_camera_is_found_again(roll, yaw, focal, seed):
    camera = camera_from_angles(focal, SIZE, roll_deg=roll, yaw_deg=yaw)
    perspective = solve_perspective(segments_of_boxes(camera, seed), SIZE)
    assert perspective.kind == "level"
    assert worst_miss_deg(perspective, camera) < 0.1
    assert perspective.pitch_deg == 0
    assert perspective.focal_px == pytest.approx(focal, rel=0.01)


@pytest.mark.parametrize("seed", range(6))
def test_looking_straight_at_a_wall_shows_the_eye_level_but_no_focal_length(seed):
    camera = camera_from_angles(1100, SIZE)
    perspective = solve_perspective(with_hand_noise(segments_of_boxes(camera, seed), 0.3, seed), SIZE)
    assert perspective.focal_px is None
    assert perspective.pitch_deg == 0
    assert perspective.horizon == pytest.approx([0, 1, -450], abs=8)
    assert perspective.horizon[:2] == pytest.approx([0, 1], abs=0.01)


@pytest.mark.parametrize(("angles", "kind"), [
    ({}, "frontal"), ({"yaw_deg": 40}, "level"), ({"yaw_deg": 40, "pitch_deg": -20}, "tilted"), ({"pitch_deg": -20}, "tilted"),
])
def test_one_two_and_three_point_pictures_are_told_apart(angles, kind):
    segments = with_hand_noise(segments_of_boxes(camera_from_angles(1100, SIZE, **angles), 2), 0.3, 2)
    assert solve_perspective(segments, SIZE).kind == kind


@pytest.mark.parametrize("noise_deg", [0.4, 0.8, 1.6])
def test_the_noise_of_the_hand_is_measured(noise_deg):
    camera = camera_from_angles(1100, SIZE, pitch_deg=-15, yaw_deg=35)
    perspective = solve_perspective(with_hand_noise(segments_of_boxes(camera, 5, 14), noise_deg, 7), SIZE)
    assert perspective.noise_deg == pytest.approx(noise_deg, rel=0.35)


def test_error_grows_with_the_noise_of_the_hand():
    def error(noise_deg):
        misses = []
        for seed in range(8):
            camera = camera_from_angles(1100, SIZE, pitch_deg=-15, roll_deg=1, yaw_deg=35)
            perspective = solve_perspective(with_hand_noise(segments_of_boxes(camera, seed, 14), noise_deg, seed), SIZE)
            misses.append(worst_miss_deg(perspective, camera))
        return float(np.median(misses))

    errors = [error(noise) for noise in (0.0, 0.25, 0.5, 1.0, 2.0)]
    assert errors == sorted(errors)
    assert errors[3] / errors[1] == pytest.approx(4, rel=0.6)  # in proportion, as a maximum-likelihood estimate's does


def test_the_intervals_hold_nine_times_in_ten_or_so():
    inside = {"focal": 0, "horizon": 0}
    trials = 30
    for seed in range(trials):
        camera = camera_from_angles(1300, SIZE, pitch_deg=-14, yaw_deg=38)
        perspective = solve_perspective(with_hand_noise(segments_of_boxes(camera, seed, 14), 0.5, seed), SIZE)
        inside["focal"] += perspective.focal_interval[0] < 1300 < perspective.focal_interval[1]
        middle = -(perspective.horizon[0] * 600 + perspective.horizon[2]) / perspective.horizon[1]
        inside["horizon"] += abs(middle + camera.horizon()[2]) < perspective.horizon_interval
    assert min(inside.values()) >= 0.8 * trials


def test_the_members_of_a_point_run_to_it():
    camera = camera_from_angles(1100, SIZE, pitch_deg=-15, yaw_deg=35)
    segments = segments_of_boxes(camera, 3)
    for found in solve_perspective(segments, SIZE).vanishing_points:
        middle, along = (segments[:, :2] + segments[:, 2:]) / 2, segments[:, 2:] - segments[:, :2]
        ray = found.point[:2] - found.point[2] * middle
        sine = (along[:, 0] * ray[:, 1] - along[:, 1] * ray[:, 0]) / np.hypot(*along.T) / np.hypot(*ray.T)
        assert len(found.members) >= len(segments) / 4
        assert np.abs(sine[found.members]).max() < 0.01


def test_roles_tell_the_upright_from_the_level_points():
    camera = camera_from_angles(1100, SIZE, pitch_deg=-15, yaw_deg=35)
    for found in solve_perspective(segments_of_boxes(camera, 3), SIZE).vanishing_points:
        is_upright = angle_between_deg(found.point, camera.vanishing_point([0, 1, 0]), camera.K) < 1
        assert found.role == ("upright" if is_upright else "level")


def test_the_reported_camera_agrees_with_itself():
    camera = camera_from_angles(1100, SIZE, pitch_deg=-15, roll_deg=2, yaw_deg=35)
    found = solve_perspective(segments_of_boxes(camera, 3), SIZE).camera
    assert found.R_world_to_camera @ found.R_world_to_camera.T == pytest.approx(np.eye(3), abs=1e-9)
    assert np.linalg.det(found.R_world_to_camera) == pytest.approx(1)
    assert found.horizon() == pytest.approx(camera.horizon(), abs=1)


def test_the_same_segments_give_the_same_answer():
    segments = with_hand_noise(segments_of_boxes(camera_from_angles(1100, SIZE, pitch_deg=9, yaw_deg=35), 3), 1.0, 5)
    first, second = solve_perspective(segments, SIZE), solve_perspective(segments, SIZE)
    assert (first.horizon == second.horizon).all()
    assert first.focal_px == second.focal_px


@pytest.mark.parametrize("count", [0, 1, 7])
def test_too_few_segments_are_not_measured(count):
    segments = np.random.default_rng(0).uniform(0, 900, (count, 4))
    assert solve_perspective(segments, SIZE) == NotMeasured(f"{count} segments found; 8 are needed")


def test_segments_that_are_no_lines_do_not_count():
    broken = np.array([[5, 5, 5, 5], [np.nan, 0, 9, 9], [3, 3, 4, 4]] * 4, float)
    assert solve_perspective(broken, SIZE) == NotMeasured("0 segments found; 8 are needed")


@pytest.mark.parametrize("seed", range(12))
def test_lines_drawn_at_random_are_not_measured(seed):
    rng = np.random.default_rng(seed)
    middle, angle, length = rng.uniform((0, 0), SIZE, (80, 2)), rng.uniform(0, np.pi, 80), rng.uniform(15, 150, 80)
    half = np.stack([np.cos(angle), np.sin(angle)], axis=1) * length[:, None] / 2
    assert not solve_perspective(np.concatenate([middle - half, middle + half], axis=1), SIZE)


@pytest.mark.parametrize("angle_deg", [0, 25, 90])
def test_parallel_lines_alone_are_not_measured(angle_deg):
    rng = np.random.default_rng(1)
    middle, length = rng.uniform((0, 0), SIZE, (60, 2)), rng.uniform(40, 200, 60)
    angle = np.radians(angle_deg) + rng.normal(0, 0.005, 60)
    half = np.stack([np.cos(angle), np.sin(angle)], axis=1) * length[:, None] / 2
    assert not solve_perspective(np.concatenate([middle - half, middle + half], axis=1), SIZE)


def test_a_given_horizon_is_taken_as_so():
    camera = camera_from_angles(1100, SIZE, pitch_deg=-12, yaw_deg=35)
    dragged = camera.horizon() + np.array([0, 0, 12.0])
    perspective = solve_perspective(segments_of_boxes(camera, 3), SIZE, GivenPerspective(horizon=-2 * dragged))
    assert perspective.horizon == pytest.approx(dragged)
    assert perspective.camera.horizon() == pytest.approx(dragged, abs=1)


def test_a_given_point_is_taken_as_so():
    camera = camera_from_angles(1100, SIZE, pitch_deg=-12, yaw_deg=35)
    segments = with_hand_noise(segments_of_boxes(camera, 3, 3), 2.0, 1)
    true = camera.vanishing_point([1, 0, 0])
    perspective = solve_perspective(segments, SIZE, GivenPerspective(points=(true[:2] / true[2],)))
    assert min(angle_between_deg(found.point, true, camera.K) for found in perspective.vanishing_points) < 0.1


def test_two_edges_given_as_parallel_meet_in_a_point_of_the_solve():
    camera = camera_from_angles(1100, SIZE, pitch_deg=-12, yaw_deg=35)
    edges = camera.project(np.array([[-2, -1, -6], [2, -1, -6], [-2, 1, -6], [2, 1, -6.0]])).reshape(2, 4)
    segments = with_hand_noise(segments_of_boxes(camera, 4, 3), 2.0, 1)
    perspective = solve_perspective(segments, SIZE, GivenPerspective(parallel_edges=(edges,)))
    true = camera.vanishing_point([1, 0, 0])
    assert min(angle_between_deg(found.point, true, camera.K) for found in perspective.vanishing_points) < 0.1


def test_what_is_given_is_no_member():
    camera = camera_from_angles(1100, SIZE, pitch_deg=-12, yaw_deg=35)
    segments = segments_of_boxes(camera, 3)
    perspective = solve_perspective(segments, SIZE, GivenPerspective(points=(camera.vanishing_point([1, 0, 0]),)))
    members = np.concatenate([found.members for found in perspective.vanishing_points])
    assert members.min() >= 0
    assert members.max() < len(segments)
