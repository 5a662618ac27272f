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


@pytest.mark.parametrize("darker", [0.07, 0.2, 0.4])
def test_paper_on_both_sides_of_a_shadow_s_edge_comes_to_one_value(darker):
    rng = np.random.default_rng(2)
    x, y = np.meshgrid(np.arange(SIZE[1]), np.arange(SIZE[0]))
    shadow = 1 - darker / (1 + np.exp(-(x + 0.4 * y - 220) / 8))
    even = even_light(np.clip(page(240) * shadow + rng.normal(0, 1.5, SIZE), 0, 255).astype(np.uint8))
    bare = np.concatenate([even[:140].ravel(), even[390:].ravel()])
    assert np.ptp(np.percentile(bare, (2, 98))) < 24
    assert even[150, 60:240].max() < 90, "the frame is no shadow"


def test_what_shows_beyond_the_edge_of_paper_laid_flat_is_covered_by_the_paper():
    photograph = scanned(page(240), np.random.default_rng(3))
    photograph[:2], photograph[:300, -3:] = 70, 70
    even = even_light(photograph)
    assert min(even[0].min(), even[:, -1].min()) > 220


def test_a_tone_is_not_taken_for_shadow_and_stays_darker_than_the_paper():
    gray = page(240)
    gray[160:370, 50:250] = 150
    even = even_light(scanned(gray, np.random.default_rng(4)))
    assert np.median(even[390:]) - np.median(even[200:340, 100:200]) > 60
