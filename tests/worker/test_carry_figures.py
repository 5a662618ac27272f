"""Marks stay on a figure that is still drawn there, and hang on none that was drawn anew."""

import numpy as np
import pytest

from board.page_space import PictureFrame
from board.worker.carry_figures import DRAWN_ANEW, PANEL_ANEW, why_anew
from tests.vision.scribbled_figures import CROWN, SIZE, SOLE, scribbled_panel

FRAME = PictureFrame(*SIZE)
DOWN = np.subtract(SOLE, CROWN)


def marks(crown):
    return {"crown": list(FRAME.to_page(crown)), "sole": list(FRAME.to_page(SOLE))}


def why(after, crown=CROWN, frame=FRAME, panel_is_redrawn=False):
    return why_anew((marks(CROWN), marks(crown)), (frame, frame), (scribbled_panel(1), after), panel_is_redrawn)


@pytest.mark.parametrize("waver_px", [0.0, 1.0])
def test_a_figure_drawn_again_keeps_its_marks(waver_px):
    for panel_is_redrawn in (False, True):
        assert why(scribbled_panel(1, waver_px), panel_is_redrawn=panel_is_redrawn) == ""


@pytest.mark.parametrize("share", [-0.15, 0.15])
def test_a_head_that_is_not_where_its_mark_would_lie_is_told(share):
    assert why(scribbled_panel(1), np.add(CROWN, share * DOWN)) == DRAWN_ANEW


def test_another_figure_in_its_place_is_told():
    assert why(scribbled_panel(2)) == DRAWN_ANEW


def test_a_figure_that_is_gone_is_told():
    assert why(np.full(SIZE[::-1], 250, np.uint8)) == DRAWN_ANEW


def test_a_figure_too_small_to_tell_goes_with_its_panel():
    small = PictureFrame(SIZE[0] // 10, SIZE[1] // 10)
    assert why(scribbled_panel(2), frame=small) == ""
    assert why(scribbled_panel(2), frame=small, panel_is_redrawn=True) == PANEL_ANEW
