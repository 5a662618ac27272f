"""How much a stroke stands out does not hang on the tone it is drawn on; a construction line does less than an edge."""

import cv2
import numpy as np
import pytest

from board.vision.stroke_depths import stroke_depths


def stood_out(paper: int, stroke: int) -> float:
    gray = np.full((200, 300), paper, np.uint8)
    cv2.line(gray, (40, 60), (260, 140), stroke, 3)
    return float(stroke_depths(np.array([[40.5, 60.5, 260.5, 140.5]]), gray)[0])


@pytest.mark.parametrize("tone", [255, 180, 110])
def test_ink_stands_out_alike_on_white_and_on_tones(tone):
    assert stood_out(tone, round(0.1 * tone)) == pytest.approx(0.9, abs=0.05)


def test_a_construction_line_stands_out_less():
    assert stood_out(250, 200) < 0.5 * stood_out(250, 60)


def test_no_segments_have_no_depths():
    assert stroke_depths(np.zeros((0, 4)), np.zeros((9, 9), np.uint8)).shape == (0,)
