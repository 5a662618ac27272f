"""A figure drawn again is known by its own lines, not by the set around it."""

import cv2
import numpy as np
import pytest

from board.not_measured import NotMeasured
from board.vision.redrawn_figure import find_redrawn, look_for_figure, maps_between
from tests.vision.scribbled_figures import CROWN, SIZE, SOLE, scribbled_panel

SAME = np.eye(3)
MIRRORED = np.array([[-1.0, 0, SIZE[0]], [0, 1, 0], [0, 0, 1]])
NEARER = np.array([[1.3, 0, -60], [0, 1.3, -90], [0, 0, 1.0]])


def laid(gray: np.ndarray, H: np.ndarray) -> np.ndarray:
    half = np.array([[1, 0, 0.5], [0, 1, 0.5], [0, 0, 1.0]])  # px places to pixel numbers
    return cv2.warpAffine(gray, (np.linalg.inv(half) @ H @ half)[:2], SIZE, flags=cv2.INTER_AREA, borderValue=248)


@pytest.mark.parametrize("H", [SAME, MIRRORED, NEARER], ids=["as it was", "mirrored", "nearer"])
@pytest.mark.parametrize("waver_px", [0.0, 1.0])
def test_a_figure_drawn_again_is_found_where_the_drawing_puts_it(H, waver_px):
    before, after = scribbled_panel(1), laid(scribbled_panel(1, waver_px), H)
    found = find_redrawn(before, after, [H], CROWN, SOLE)
    assert found is not None
    for end in (CROWN, SOLE):
        assert np.hypot(*((found.to_after @ [*end, 1]) - (H @ [*end, 1]))[:2]) < 1.5


@pytest.mark.parametrize("other", [2, 3, None], ids=["another", "a third", "nobody"])
def test_whoever_else_stands_on_the_same_set_is_not_taken_for_it(other):
    assert find_redrawn(scribbled_panel(1), scribbled_panel(other), [SAME], CROWN, SOLE) is None


def test_a_figure_a_little_beside_its_place_is_found_there():
    before = scribbled_panel(1)
    aside = np.array([[1.0, 0, 8], [0, 1, -5], [0, 0, 1]])
    found = find_redrawn(before, laid(before, aside), [SAME], CROWN, SOLE)
    assert found is not None
    assert found.shift_px == pytest.approx([8, -5], abs=1.0)


def test_the_drawing_itself_says_where_to_look():
    maps = maps_between(scribbled_panel(1), laid(scribbled_panel(2), MIRRORED), is_same_as=False)
    assert len(maps) == 1
    assert maps[0] == pytest.approx(MIRRORED, abs=3.0)
    assert len(maps_between(scribbled_panel(1), scribbled_panel(2), is_same_as=True)) == 2
    assert maps_between(scribbled_panel(1), np.full(SIZE[::-1], 250, np.uint8), is_same_as=True) == []


@pytest.mark.parametrize(("H", "why"), [
    (np.diag([0.1, 0.1, 1.0]), "too small"),
    (np.array([[1.0, 0, 900], [0, 1, 0], [0, 0, 1]]), "outside"),
])
def test_what_cannot_be_looked_for_says_why(H, why):
    gray = scribbled_panel(1)
    looked = look_for_figure(gray, gray, H, CROWN, SOLE)
    assert isinstance(looked, NotMeasured)
    assert why in looked.reason


def test_blank_paper_shows_no_figure():
    blank = np.full(SIZE[::-1], 250, np.uint8)
    assert isinstance(look_for_figure(blank, blank, SAME, CROWN, SOLE), NotMeasured)
