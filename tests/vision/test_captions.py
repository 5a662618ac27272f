"""Boxes within a panel that hold words alone."""

import cv2
import numpy as np
import pytest

from board.vision.captions import is_caption
from board.vision.page_piece import PieceScale
from board.vision.panel_frames import find_panels

SIZE = (1000, 700)
SCALE = PieceScale.of(SIZE)
BOX = np.array([[400, 700], [640, 700], [640, 880], [400, 880]], float)


def boxed(words):
    """A drawing that fills its frame, with a box set into it and a few rows of words there."""
    gray = np.full(SIZE, 255, np.uint8)
    cv2.rectangle(gray, (40, 40), (660, 960), 190, -1)
    cv2.rectangle(gray, (40, 40), (660, 960), 10, 4)
    cv2.ellipse(gray, (250, 400), (120, 200), 0, 0, 360, 20, 3)
    cv2.line(gray, (40, 640), (660, 800), 20, 3)
    cv2.rectangle(gray, (392, 692), (648, 888), 255, -1)
    cv2.rectangle(gray, (400, 700), (640, 880), 10, 3)
    for row, line in enumerate(words):
        cv2.putText(gray, line, (415, 735 + 30 * row), cv2.FONT_HERSHEY_SIMPLEX, 0.6, 10, 2, cv2.LINE_AA)
    return gray


CREDITS = ("WRITTEN AND DRAWN", "BY ALL OF US", "LETTERED AT NIGHT", "FOR EVERYBODY")


def test_a_box_of_credits_in_a_splash_is_no_panel():
    assert is_caption(boxed(CREDITS), BOX, SCALE)
    assert len(find_panels(boxed(CREDITS)).panels) == 1


@pytest.mark.parametrize("words", [(), CREDITS[:1], CREDITS[:2]])
def test_a_box_with_a_drawing_in_it_is_a_panel_whatever_is_said_there(words):
    gray = boxed(words)
    cv2.ellipse(gray, (520, 830), (50, 36), 0, 0, 360, 20, 3)
    cv2.line(gray, (400, 862), (640, 850), 20, 3)
    assert not is_caption(gray, BOX, SCALE)
    assert len(find_panels(gray).panels) == 2


def test_an_empty_box_is_no_caption():
    assert not is_caption(boxed(()), BOX, SCALE)
    assert not is_caption(boxed(()), BOX[:1].repeat(4, axis=0), SCALE)
