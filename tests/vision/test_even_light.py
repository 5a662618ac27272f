"""A slow fall of light is taken out of a scan; what a painter laid over flat paper is left as it is."""

import cv2
import numpy as np
import pytest

from board.vision.even_light import even_light

SIZE = (420, 300)
FALL = np.linspace(0.72, 1.0, SIZE[1])[None, :] * np.ones((SIZE[0], 1))


def page(paper: int) -> np.ndarray:
    """A sheet with a frame in it."""
    gray = np.full(SIZE, paper, np.uint8)
    cv2.rectangle(gray, (40, 150), (260, 380), 20, 3)
    return gray


def painted(paper: int) -> np.ndarray:
    """The same, its upper part filled by tones that grow darker towards the edge."""
    gray = page(paper)
    gray[:120] = np.linspace(110, 225, 120).astype(np.uint8)[:, None]
    return gray


def scanned(gray: np.ndarray, rng: np.random.Generator) -> np.ndarray:
    return np.clip(gray * FALL + rng.normal(0, 1.5, SIZE), 0, 255).astype(np.uint8)


@pytest.mark.parametrize("paper", [236, 250, 255])
def test_flat_paper_is_left_as_it_is_whatever_is_painted_up_to_its_edge(paper):
    gray = painted(paper)
    assert even_light(gray) is gray


def test_a_compressed_picture_of_flat_paper_is_left_as_it_is():
    gray = cv2.imdecode(cv2.imencode(".jpg", painted(250), [cv2.IMWRITE_JPEG_QUALITY, 80])[1], cv2.IMREAD_GRAYSCALE)
    assert even_light(gray) is gray


def test_paper_under_a_slanting_light_comes_to_one_value():
    scan = scanned(page(240), np.random.default_rng(1))
    even = even_light(scan)
    assert np.ptp(np.median(scan[390:], axis=0)) > 50
    assert np.ptp(np.median(even[390:], axis=0)) < 8
