"""Words of an underlay, in as many lines as there is room for."""

from functools import lru_cache

from PIL import ImageFont

from board.font_files import font_path
from board.page_space import Point
from board.worker.underlay.layer import Layer

FONT = ("fontpkg_alegreya_sans", "AlegreyaSans-Regular.ttf")
LINE = 1.1  # from one foot to the next, in sizes of the letters


@lru_cache(maxsize=4)
def font_of(letters_px: float) -> ImageFont.FreeTypeFont:
    return ImageFont.truetype(font_path(*FONT), letters_px)


def lines_within(text: str, room_px: float, letters_px: float) -> list[str]:
    """A word that is longer than the room stands alone in its line."""
    font, lines = font_of(letters_px), [""]
    for word in text.split():
        longer = f"{lines[-1]} {word}".strip()
        if lines[-1] and font.getlength(longer) > room_px:
            lines.append(word)
        else:
            lines[-1] = longer
    return lines


def write_upwards(layer: Layer, at: Point, text: str, kind: str, *, room_px: float, letters_px: float) -> None:
    """`at` is where the foot of the last line begins."""
    lines = lines_within(text, room_px, letters_px)
    for above, line in zip(range(len(lines) - 1, -1, -1), lines, strict=True):
        layer.write((at[0], at[1] - above * LINE * letters_px), line, kind)
