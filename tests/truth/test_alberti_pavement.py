"""Pavements as L. B. Alberti draws and proves them, De pictura (1435), book 1, and depth by G. A. Storey's distance point.

Alberti: the depths of the transversals are found from the eye's distance, and a pavement is right when one straight line is the
diagonal of several squares laid together. Storey, The Theory and Practice of Perspective (1910): those diagonals meet the eye level
as far from the point of sight as the eye is from the picture. (From memory: the pages.)
"""

import numpy as np
import pytest

from board.ground_view import ground_view
from board.perspective_grid import perspective_grid

DISTANCE_PX, EYE_LEVEL_PX, SIGHT_PX = 900.0, 300.0, 500.0
PANEL = ((0.0, 0.0), (1000.0, 0.0), (1000.0, 800.0), (0.0, 801.0))


def pavement() -> tuple[np.ndarray, np.ndarray]:
    """Levels of the transversals, nearest first, and where the lines to the point of sight cross the height of the nearest."""
    view = ground_view((0.0, 1.0, -EYE_LEVEL_PX), [(SIGHT_PX, EYE_LEVEL_PX, 1.0), (1.0, 0.0, 0.0)], None, middle=(500.0, 400.0),
                       diagonal_px=1280.0, focal_px=DISTANCE_PX)
    to_sight, across = perspective_grid(view, PANEL, 0.5, has_walls=False).floor
    levels = np.array(sorted({round((a[1] + b[1]) / 2, 6) for a, b in across if abs(a[1] - b[1]) < 1e-6}, reverse=True))
    lines = np.array([np.cross([*a, 1], [*b, 1]) for a, b in to_sight])
    return levels, np.sort(-(lines[:, 1] * levels[0] + lines[:, 2]) / lines[:, 0])


def at(level: float, foot: float, first: float) -> np.ndarray:
    """Where the line to the point of sight that crosses the nearest transversal at `foot` crosses another."""
    share = (level - EYE_LEVEL_PX) / (first - EYE_LEVEL_PX)
    return np.array([SIGHT_PX + share * (foot - SIGHT_PX), level])


def test_one_straight_line_is_the_diagonal_of_several_squares():
    levels, feet = pavement()
    corners = np.array([at(levels[k], feet[3 + k], levels[0]) for k in range(6)])
    along = corners[-1] - corners[0]
    off = np.cross(np.column_stack([corners - corners[0], np.zeros(6)]), [*along / np.linalg.norm(along), 0])[:, 2]
    assert np.abs(off).max() < 1e-3


@pytest.mark.parametrize("start", [0, 2, 5])
def test_the_diagonals_meet_the_eye_level_at_the_distance_point(start):
    levels, feet = pavement()
    first, last = at(levels[0], feet[start], levels[0]), at(levels[3], feet[start + 3], levels[0])
    share = (EYE_LEVEL_PX - first[1]) / (last[1] - first[1])
    assert first[0] + share * (last[0] - first[0]) == pytest.approx(SIGHT_PX + DISTANCE_PX, rel=1e-4)


def test_transversals_lie_where_albertis_side_view_puts_them():
    """In his side view, rays from the floor's even steps to the eye cross the picture plane at those heights."""
    levels, _ = pavement()
    below = levels - EYE_LEVEL_PX
    eye = 2.0  # steps of half an eye height
    nearest = DISTANCE_PX * eye / below[0]
    assert below == pytest.approx(DISTANCE_PX * eye / (nearest + np.arange(len(below))), rel=1e-5)
