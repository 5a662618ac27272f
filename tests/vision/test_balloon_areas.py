"""Where balloons lie over a drawing."""

import cv2
import numpy as np
import pytest

from board.vision.balloon_areas import find_balloon_areas

AT, ROOM = (450, 300), (150, 70)


def toned_page(*, is_lettered: bool) -> np.ndarray:
    """A grey drawing with a balloon on it, lettered or empty."""
    gray = np.full((1300, 900), 150, np.uint8)
    cv2.ellipse(gray, AT, ROOM, 0, 0, 360, 250, -1)
    cv2.ellipse(gray, AT, ROOM, 0, 0, 360, 20, 3)
    if is_lettered:
        cv2.putText(gray, "MIND THE SILL", (AT[0] - 105, AT[1] + 8), cv2.FONT_HERSHEY_SIMPLEX, 0.9, 20, 2)
    return gray


def test_a_lettered_balloon_is_covered_up_to_its_outline_and_no_farther():
    areas = find_balloon_areas(toned_page(is_lettered=True))
    y, x = np.mgrid[:1300, :900]
    inside = ((x - AT[0]) / ROOM[0]) ** 2 + ((y - AT[1]) / ROOM[1]) ** 2
    assert areas[inside <= 1].all()
    assert not areas[inside > 1.6].any()


def test_white_without_words_is_no_balloon():
    assert not find_balloon_areas(toned_page(is_lettered=False)).any()


def test_words_on_open_paper_cover_no_more_than_their_own_room():
    gray = np.full((1300, 900), 250, np.uint8)
    cv2.putText(gray, "MIND THE SILL", (340, 300), cv2.FONT_HERSHEY_SIMPLEX, 0.9, 20, 2)
    areas = find_balloon_areas(gray)
    assert areas[290, 400] and areas.mean() < 0.03


def wall_with_marks(value: int) -> np.ndarray:
    """A closed wall no larger than a balloon may be, and a row of short strokes on it."""
    gray = np.full((1300, 900), 250, np.uint8)
    cv2.rectangle(gray, (200, 300), (500, 500), 60, 3)
    for x in range(300, 400, 16):
        cv2.line(gray, (x, 380), (x + 3, 402), value, 2)
    return gray


@pytest.mark.parametrize(("value", "is_words"), [(60, True), (215, False)])
def test_ends_of_construction_lines_in_a_row_are_no_words(value, is_words):
    assert find_balloon_areas(wall_with_marks(value)).any() == is_words
