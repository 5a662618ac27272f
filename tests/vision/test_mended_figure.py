"""A figure that was drawn anew on its soles, in another size or with another head, is found along its axis."""

import numpy as np
import pytest

from board.vision.mended_figure import find_mended
from tests.vision.scribbled_figures import CROWN, SIZE, SOLE, mended_panel, scribbled_panel

SAME = np.eye(3)
CHIN = CROWN + 0.17 * (SOLE - CROWN)


def moved(H, point):
    return (H @ [*point, 1.0])[:2]


@pytest.mark.parametrize("grown", [0.85, 1.18])
def test_a_figure_drawn_taller_or_smaller_is_found_whole(grown):
    found = find_mended(scribbled_panel(1), mended_panel(grown, grown), [SAME], CROWN, SOLE)
    assert found is not None
    assert found.is_whole
    assert moved(found.head_to_after, CROWN) == pytest.approx(SOLE + grown * (CROWN - SOLE), abs=4)
    assert moved(found.body_to_after, SOLE) == pytest.approx(SOLE, abs=4)


@pytest.mark.parametrize("head", [0.75, 1.3])
def test_another_head_on_the_same_body_is_found_with_its_chin(head):
    found = find_mended(scribbled_panel(1), mended_panel(1.0, head), [SAME], CROWN, SOLE)
    assert found is not None
    assert not found.is_whole
    assert moved(found.head_to_after, CROWN) == pytest.approx(CROWN, abs=4)
    assert moved(found.head_to_after, CHIN) == pytest.approx(CROWN + head * (CHIN - CROWN), abs=4)


@pytest.mark.parametrize("other", [2, None], ids=["another", "nobody"])
def test_whoever_else_stands_there_is_not_taken_for_it(other):
    assert find_mended(scribbled_panel(1), scribbled_panel(other), [SAME], CROWN, SOLE) is None


def test_nothing_is_found_of_a_figure_that_is_too_small_on_blank_paper_or_mirrored():
    before, blank = scribbled_panel(1), np.full(SIZE[::-1], 250, np.uint8)
    assert find_mended(before, before, [np.diag([0.1, 0.1, 1.0])], CROWN, SOLE) is None
    assert find_mended(blank, blank, [SAME], CROWN, SOLE) is None
    assert find_mended(before, before, [np.array([[-1.0, 0, SIZE[0]], [0, 1, 0], [0, 0, 1]])], CROWN, SOLE) is None
