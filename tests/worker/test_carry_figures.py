"""Marks stay on a figure that is still drawn there, and hang on none that was drawn anew."""

import numpy as np
import pytest

from board.page_space import PictureFrame
from board.worker.carry_figures import was_drawn_anew
from tests.vision.scribbled_figures import CROWN, SIZE, SOLE, scribbled_panel

FRAME = PictureFrame(*SIZE)
DOWN = np.subtract(SOLE, CROWN)


def marks(crown):
    return {"crown": list(FRAME.to_page(crown)), "sole": list(FRAME.to_page(SOLE))}


def is_anew(after, crown=CROWN, frame=FRAME):
    return was_drawn_anew((marks(CROWN), marks(crown)), (frame, frame), (scribbled_panel(1), after))


@pytest.mark.parametrize("waver_px", [0.0, 1.0])
def test_a_figure_drawn_again_keeps_its_marks(waver_px):
    assert not is_anew(scribbled_panel(1, waver_px))


@pytest.mark.parametrize("share", [-0.15, 0.15])
def test_a_head_that_is_not_where_its_mark_would_lie_is_told(share):
    assert is_anew(scribbled_panel(1), np.add(CROWN, share * DOWN))


def test_another_figure_in_its_place_is_told():
    assert is_anew(scribbled_panel(2))


def test_a_figure_that_is_gone_is_told():
    assert is_anew(np.full(SIZE[::-1], 250, np.uint8))


def test_a_figure_too_small_to_tell_keeps_its_marks():
    assert not is_anew(scribbled_panel(2), frame=PictureFrame(SIZE[0] // 10, SIZE[1] // 10))
