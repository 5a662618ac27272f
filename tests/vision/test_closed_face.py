"""Whether a line closes a face with the edges that are in order."""

import numpy as np
import pytest

from board.vision.closed_face import face_closed

LINE = np.array([100.0, 100, 300, 112])
LEFT, RIGHT = np.array([[101.0, 98, 101, 260]]), np.array([[299.0, 110, 299, 260]])
OPPOSITE = np.array([[95.0, 260, 305, 260]])
NONE = np.zeros((0, 4))


def closed(crosswise, alike=NONE):
    return face_closed(LINE, crosswise, alike, 12.0, 8.0)


def test_an_edge_at_each_end_to_one_side_and_one_opposite_close_a_face():
    assert closed([np.concatenate([LEFT, RIGHT])], OPPOSITE) == pytest.approx(3.5, abs=0.01)


def test_without_the_opposite_edge_it_is_less_and_to_two_sides_less_still():
    to_one_side = closed([np.concatenate([LEFT, RIGHT])])
    above = RIGHT - np.array([0, 150, 0, 150])
    assert (to_one_side, closed([np.concatenate([LEFT, above])], OPPOSITE)) == (2.0, 1.0)


def test_an_opposite_edge_that_reaches_one_of_them_counts_in_part():
    part = closed([np.concatenate([LEFT, RIGHT])], np.array([[95.0, 260, 180, 260]]))
    assert 2.4 < part < 2.6


@pytest.mark.parametrize("crosswise", [[LEFT], [], [LEFT, RIGHT], [np.array([[100.0, 100, 300, 112]])]])
def test_one_edge_alone_or_two_of_different_directions_close_none(crosswise):
    assert closed(crosswise, OPPOSITE) == 0


def test_the_best_of_several_pairs_counts():
    far = np.concatenate([LEFT + 40, RIGHT + 40])
    assert closed([np.concatenate([far, LEFT, RIGHT])], OPPOSITE) == pytest.approx(3.5, abs=0.01)
