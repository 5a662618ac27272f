"""A hatching is no witness of a direction in space; boards that run to a point are."""

import numpy as np
import pytest

from board.not_measured import NotMeasured
from board.vision.camera import height_at
from board.vision.hatching import STROKES_HEARD, hatching_labels, hatching_weights
from board.vision.perspective import solve_perspective

SIZE = (1200.0, 900.0)
DIAGONAL_PX = float(np.hypot(*SIZE))


def strokes(angle_deg: float, count: int, gap_px: float = 14.0, length_px: float = 260.0, seed: int = 0) -> np.ndarray:
    """A hatching over the middle of the left half, a little uneven."""
    rng = np.random.default_rng(seed)
    angle = np.radians(angle_deg + rng.normal(0, 0.4, count))
    along = np.stack([np.cos(angle), np.sin(angle)], axis=1)
    across = np.array([-np.sin(np.radians(angle_deg)), np.cos(np.radians(angle_deg))])
    middle = np.array([320.0, 430.0]) + (np.arange(count) - count / 2 + rng.normal(0, 0.1, count))[:, None] * gap_px * across
    half = length_px / 2 * rng.uniform(0.7, 1.0, count)[:, None]
    return np.hstack([middle - half * along, middle + half * along])


def boards(count: int = 14) -> np.ndarray:
    """Lines of a floor that run to (700, 300)."""
    foot = np.linspace(-300, 1500, count)
    return np.stack([700 + 0.4 * (foot - 700), np.full(count, 540.0), foot, np.full(count, 900.0)], axis=1)


def room() -> np.ndarray:
    """A floor, uprights and level lines across, seen straight on: the eye level lies at y = 300."""
    uprights = np.array([[x, 320 + 20 * (k % 3), x, 700 - 30 * (k % 4)] for k, x in enumerate(range(520, 1160, 80))], float)
    across = np.array([[500, y, 1100, y] for y in (180, 420, 590, 760)], float)
    return np.concatenate([boards(), uprights, across])


def test_strokes_close_beside_each_other_are_one_direction():
    labels = hatching_labels(strokes(45, 30), DIAGONAL_PX)
    assert set(labels[3:-3]) == {0}
    assert hatching_weights(strokes(45, 30), DIAGONAL_PX)[labels == 0].sum() == pytest.approx(STROKES_HEARD)


def test_cross_hatching_has_two_directions():
    labels = hatching_labels(np.concatenate([strokes(45, 30), strokes(110, 20)]), DIAGONAL_PX)
    assert set(labels[3:27]) == {0}
    assert set(labels[33:47]) == {1}


def test_lines_that_run_to_a_point_or_stand_upright_are_none():
    assert (hatching_labels(boards(), DIAGONAL_PX) == -1).all()
    assert (hatching_labels(strokes(90, 30), DIAGONAL_PX) == -1).all()
    assert (hatching_labels(strokes(45, 6), DIAGONAL_PX) == -1).all()
    assert hatching_labels(np.zeros((0, 4)), DIAGONAL_PX).shape == (0,)


def rain(count=40, angle_deg=108.0, spread_deg=0.6, seed=2):
    """Streaks all over the picture, clear of the room's own lines."""
    rng = np.random.default_rng(seed)
    angle = np.radians(angle_deg + rng.normal(0, spread_deg, count))
    middle = rng.uniform([30, 30], [480, 510], (count, 2))
    half = rng.uniform(15, 40, count)[:, None] * np.stack([np.cos(angle), np.sin(angle)], axis=1)
    return np.hstack([middle - half, middle + half])


def test_rain_is_one_direction_and_no_upright():
    labels = hatching_labels(np.concatenate([room(), rain()]), DIAGONAL_PX)
    assert (labels[: len(room())] >= 0).sum() <= 1  # the one board that runs as the rain falls
    assert (labels[len(room()):] == 0).mean() > 0.9
    wet, dry = (solve_perspective(lines, SIZE) for lines in (np.concatenate([room(), rain()]), room()))
    assert height_at(wet.horizon, 600.0) == pytest.approx(height_at(dry.horizon, 600.0), abs=3)


def test_lines_of_one_direction_that_end_at_others_are_no_rain():
    slats = rain(spread_deg=0.0)
    x, y = slats.reshape(-1, 2).T
    posts = np.stack([x, y - 9, x, y + 9], axis=1)
    assert (hatching_labels(np.concatenate([slats, posts]), DIAGONAL_PX) == -1).all()


def test_a_hatching_across_a_narrow_strip_is_one_though_each_stroke_has_few_beside_it():
    x = np.arange(100, 1000, 20.0)
    across = np.stack([x, np.full_like(x, 430), x + 30, np.full_like(x, 400)], axis=1)
    assert (hatching_labels(across, DIAGONAL_PX)[3:-3] == 0).all()


@pytest.mark.parametrize("angle_deg", [30, 45, 60, 135])
def test_ninety_strokes_do_not_move_the_eye_level(angle_deg):
    with_hatching = solve_perspective(np.concatenate([room(), *(strokes(angle_deg, 45, seed=k) + 5 * k for k in (0, 1))]), SIZE)
    assert not isinstance(with_hatching, NotMeasured)
    assert height_at(with_hatching.horizon, 600) == pytest.approx(300, abs=9)
    assert abs(with_hatching.roll_deg) < 1
