"""The ground of a page that was compressed."""

import cv2
import numpy as np
import pytest

from board.vision.page_ground import find_ground

SIZE = (700, 500)
LEFT, RIGHT = (30, 30, 236, 670), (264, 30, 470, 670)


def inked_page() -> np.ndarray:
    """Two frames full of strokes, with a gutter of 26 px between them."""
    gray = np.full(SIZE, 255, np.uint8)
    for left, top, right, bottom in (LEFT, RIGHT):
        cv2.rectangle(gray, (left, top), (right, bottom), 20, 3)
        for y in range(top + 9, bottom - 5, 11):
            cv2.line(gray, (left, y), (right, y + 3), 60, 2)
    return gray


@pytest.mark.parametrize("quality", [60, 80, 92])
def test_ripples_of_compression_beside_strokes_are_ground(quality):
    packed = cv2.imencode(".jpg", inked_page(), [cv2.IMWRITE_JPEG_QUALITY, quality])[1]
    ground = find_ground(cv2.imdecode(packed, cv2.IMREAD_GRAYSCALE)).ground
    assert ground[40:660, LEFT[2] + 5 : RIGHT[0] - 4].mean() > 0.99


def test_pale_tones_beside_ruled_strokes_are_no_ripples():
    gray = inked_page()
    gray[40:660, LEFT[2] + 8 : RIGHT[0] - 8] = 243
    assert not find_ground(gray).paper[60:640, 246:254].any()
