"""G. A. Storey, The Theory and Practice of Perspective (1910), chapter XXVIII: figures of one height on level ground, one horizon.

Three cases: the horizon over all their heads (seen from above), under them (seen from below), and at them. In each, one figure
fixes the height of every other wherever it stands.
"""

import numpy as np
import pytest

from board.figure_posts import PostView, height_at, post_at
from board.vision.camera import camera_from_angles
from board.vision.eye_level import PanelEyeLevel
from board.vision.height_agreement import compare_heights
from board.vision.implied_heights import StandingFigure, imply_height

HORIZON = (0.0, 1.0, 0.0)
FIGURE_M = 1.75
PLACES = [(-1.0, 3.0), (0.5, 5.0), (2.0, 9.0), (-3.0, 20.0)]
CASES = pytest.mark.parametrize("eye_m", [3.5, 0.9, FIGURE_M], ids=["heads below the horizon", "heads above it", "heads at it"])


def drawn(eye_m, x, away, height_m=FIGURE_M):
    """(sole, crown) seen by a level camera."""
    ends = camera_from_angles(1000, (0, 0)).project(np.array([[x, -eye_m, -away], [x, height_m - eye_m, -away]]))
    return tuple(map(tuple, ends.tolist()))


@CASES
def test_the_horizon_cuts_all_figures_at_one_share_of_their_height(eye_m):
    for x, away in PLACES:
        sole, crown = drawn(eye_m, x, away)
        assert sole[1] / (sole[1] - crown[1]) == pytest.approx(eye_m / FIGURE_M)


@CASES
def test_heads_are_on_the_side_of_the_horizon_that_the_case_says(eye_m):
    for x, away in PLACES:
        crown_y = drawn(eye_m, x, away)[1][1]
        assert np.sign(round(crown_y, 9)) == np.sign(eye_m - FIGURE_M)


@CASES
def test_one_figure_fixes_every_other(eye_m):
    """The eye height, never given, is read from the first figure; posts drawn by it reach the heads of all others."""
    sole, crown = drawn(eye_m, *PLACES[0])
    in_eyes = height_at(sole, crown, PostView(HORIZON, 1.0))
    view = PostView(HORIZON, FIGURE_M / in_eyes)
    for place in PLACES[1:]:
        sole, crown = drawn(eye_m, *place)
        assert post_at(sole, FIGURE_M, view).top == pytest.approx(crown, abs=1e-9)


@CASES
def test_equal_figures_agree_and_an_unequal_one_stands_out(eye_m):
    level = PanelEyeLevel(HORIZON, None, 0.0, 0.0, 1000.0)
    figures = [StandingFigure(k, f"Figure {k}", *drawn(eye_m, *place), FIGURE_M) for k, place in enumerate(PLACES)]
    taller = StandingFigure(9, "Figure 9", *drawn(eye_m, 1.0, 6.0, 1.2 * FIGURE_M), FIGURE_M)
    agreement = compare_heights([imply_height(figure, level) for figure in figures], 0.07)
    assert (agreement.off, agreement.pair) == ((), None)
    assert agreement.eye.height_m == pytest.approx(eye_m)
    (off,) = compare_heights([imply_height(figure, level) for figure in (*figures, taller)], 0.07).off
    assert (off.implied.figure.id, off.share) == (9, pytest.approx(1.2))
