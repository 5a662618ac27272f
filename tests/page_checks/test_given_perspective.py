"""A perspective set by hand is taken as so, and the answer says so."""

from dataclasses import replace

import numpy as np
import pytest

from board.check_contract import Findings, GivenInPanel
from board.page_checks.perspective import SET_BY_HAND
from board.vision.given_points import given_from_points
from tests.page_checks.test_perspective import CAMERA, PANEL, draw
from tests.page_checks.test_perspective import checked as checked_panels

LEVELS = ((0.1, 0.3), (0.9, 0.34))


def checked(pixels: np.ndarray, given: GivenInPanel | None) -> Findings:
    result = checked_panels(pixels, (replace(PANEL, given=given),))
    assert isinstance(result, Findings)
    return result


def level_at(numbers: dict, x: float) -> float:
    (x0, y0), (x1, y1) = numbers["eye_level"]
    return y0 + (x - x0) / (x1 - x0) * (y1 - y0)


def test_an_eye_level_that_was_set_is_the_panels_eye_level():
    (numbers,) = checked(draw(CAMERA), GivenInPanel(eye_level=LEVELS)).numbers["panels"]
    assert [level_at(numbers, x) for x, _ in LEVELS] == pytest.approx([y for _, y in LEVELS], abs=1e-6)
    assert numbers["set_by_hand"] is True


def test_without_a_word_by_hand_nothing_is_said_of_one():
    (numbers,) = checked(draw(CAMERA), None).numbers["panels"]
    assert "set_by_hand" not in numbers


def test_the_true_eye_level_given_leaves_the_solve_where_it_was():
    pixels = draw(CAMERA)
    (free,) = checked(pixels, None).numbers["panels"]
    (x0, y0), (x1, y1) = free["eye_level"]
    (given,) = checked(pixels, GivenInPanel(eye_level=((x0, y0), (x1, y1)))).numbers["panels"]
    assert given["focal_px"] == pytest.approx(free["focal_px"], rel=0.05)


def test_a_note_says_that_it_was_measured_against_what_was_set():
    pixels = draw(CAMERA, bend=(1, 3, 6.0))
    (x0, y0), (x1, y1) = checked(pixels, None).numbers["panels"][0]["eye_level"]
    found = checked(pixels, GivenInPanel(eye_level=((x0, y0), (x1, y1)))).found
    assert found
    assert all(one.text.endswith(SET_BY_HAND) for one in found)
    assert not any(SET_BY_HAND in one.text for one in checked(pixels, None).found)


def test_two_edges_said_to_be_parallel_meet_in_one_of_the_points():
    edges = np.array([[[100.0, 100.0], [500.0, 180.0]], [[100.0, 700.0], [500.0, 560.0]]])
    (point,) = given_from_points(None, np.empty((0, 2)), list(edges)).all_points
    for start, end in edges:
        assert np.cross([*start, 1], [*end, 1]) @ point == pytest.approx(0, abs=1e-6)


def test_a_point_that_was_set_is_among_the_points():
    pixels = draw(CAMERA)
    height, width = pixels.shape
    free = checked(pixels, None).numbers["panels"][0]
    x, y, w = next(one["point"] for one in free["vanishing_points"] if one["role"] == "level" and abs(one["point"][2]) > 0.1)
    given = checked(pixels, GivenInPanel(points=((x / w, y / w),))).numbers["panels"][0]
    apart = [np.hypot((p[0] / p[2] - x / w) * width, (p[1] / p[2] - y / w) * height)
             for p in (one["point"] for one in given["vanishing_points"]) if abs(p[2]) > 1e-6]
    assert min(apart) < 0.03 * width


@pytest.mark.parametrize("seed", range(8))
def test_whatever_is_set_the_check_answers(seed):
    """Nonsense too: points on the drawing, twice the same, far off, and eye levels that no line knows of."""
    rng = np.random.default_rng(seed)
    points = tuple(map(tuple, rng.uniform(-1, 2, (seed % 3, 2)).tolist())) * (1 + seed % 2)
    given = GivenInPanel(LEVELS if seed % 2 else None, points[:3] or ((900.0, -900.0),), ())
    checked(draw(CAMERA), given)


def test_a_blank_panel_says_that_even_so_too_few_lines_are_there():
    result = checked(np.full((600, 800), 255, np.uint8), GivenInPanel(eye_level=LEVELS))
    assert [reason.reason for reason in result.not_measured.values()] == ["0 segments found; 3 are needed"]
