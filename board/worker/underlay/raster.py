"""An underlay's layers as transparent pictures of the page's own size."""

from collections.abc import Iterable, Iterator

import cv2
import numpy as np
from PIL import Image, ImageDraw

from board.page_space import Point
from board.perspective_grid import clip_to_side
from board.worker.underlay.layer import Layer, Stroke, Words
from board.worker.underlay.lettering import font_of
from board.worker.underlay.style import KINDS, Color, hairline_px, letters_px, page_height_px

FRACTION_BITS = 4  # of a pixel, in OpenCV's drawing
OVERHANG_PX = 64.0


def as_picture(layer: Layer, size_px: tuple[int, int]) -> Image.Image:
    """RGBA; where inks cross, the one drawn later lies on top."""
    picture = np.zeros((size_px[1], size_px[0], 4), np.uint8)
    for color, strokes, words in _by_color(layer):
        mask = _mask(strokes, words, size_px)
        inked = mask > 0
        picture[inked, :3] = color
        np.maximum(picture[..., 3], mask, out=picture[..., 3])
    return Image.fromarray(picture, "RGBA")


def _by_color(layer: Layer) -> Iterator[tuple[Color, list[Stroke], list[Words]]]:
    for color in dict.fromkeys(ink.color for ink in KINDS.values()):
        strokes = [stroke for stroke in layer.strokes if KINDS[stroke.kind].color == color]
        words = [words for words in layer.words if KINDS[words.kind].color == color]
        if strokes or words:
            yield color, strokes, words


def _mask(strokes: Iterable[Stroke], words: Iterable[Words], size_px: tuple[int, int]) -> np.ndarray:
    mask = np.zeros((size_px[1], size_px[0]), np.uint8)
    hairline = hairline_px(page_height_px(*size_px))
    for stroke in strokes:
        width = max(1, round(KINDS[stroke.kind].width * hairline))
        for start, end in zip(stroke.points, stroke.points[1:], strict=False):
            _draw_line(mask, start, end, width)
    return _lettered(mask, words, letters_px(page_height_px(*size_px)))


def _draw_line(mask: np.ndarray, start: Point, end: Point, width_px: int) -> None:
    """A pixel's middle is at half a pixel for us, and at none for OpenCV."""
    height, width = mask.shape
    segment: tuple[Point, Point] | None = (start, end)
    for side in ((1, 0, OVERHANG_PX), (-1, 0, width + OVERHANG_PX), (0, 1, OVERHANG_PX), (0, -1, height + OVERHANG_PX)):
        segment = clip_to_side(segment, side) if segment else None
    if segment:
        a, b = (tuple(int(round((v - 0.5) * (1 << FRACTION_BITS))) for v in point) for point in segment)
        cv2.line(mask, a, b, 255, width_px, cv2.LINE_AA, FRACTION_BITS)


def _lettered(mask: np.ndarray, words: Iterable[Words], letters: float) -> np.ndarray:
    words = list(words)
    if not words:
        return mask
    image = Image.fromarray(mask)
    pen, font = ImageDraw.Draw(image), font_of(letters)
    for one in words:
        pen.text((one.at[0], one.at[1] - letters / 4), one.text, fill=255, font=font, anchor="ls")
    return np.asarray(image)
