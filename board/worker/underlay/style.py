"""Ink of an underlay: non-photo blue for what is measured, red pencil for what people say, as on the screens."""

from dataclasses import dataclass

Color = tuple[int, int, int]
BLUE, PALE_BLUE, DEEP_BLUE, RED = (47, 147, 187), (120, 190, 220), (18, 96, 127), (200, 72, 58)


@dataclass(frozen=True)
class Ink:
    color: Color
    width: float  # times the page's hairline

    @property
    def hex(self) -> str:
        return "#{:02x}{:02x}{:02x}".format(*self.color)


KINDS: dict[str, Ink] = {
    "floor": Ink(BLUE, 1.0),
    "wall": Ink(PALE_BLUE, 0.75),
    "eye-level": Ink(DEEP_BLUE, 2.0),
    "post": Ink(DEEP_BLUE, 2.0),
    "tick": Ink(DEEP_BLUE, 1.25),
    "box": Ink(DEEP_BLUE, 1.5),
    "measure": Ink(DEEP_BLUE, 1.0),
    "measured": Ink(DEEP_BLUE, 1.5),
    "person": Ink(RED, 1.5),
}


TALLEST = 1.6  # times its width: what is higher is a strip for scrolling, seen and drawn a screen at a time


def page_height_px(width_px: float, height_px: float) -> float:
    """What ink and letters are sized by: the page's height, or of a strip that of a page of its width."""
    return min(height_px, TALLEST * width_px)


def hairline_px(height_px: float) -> float:
    """About 0.15 mm on a page of common size."""
    return max(1.0, height_px / 1800)


def letters_px(height_px: float) -> float:
    return max(9.0, height_px / 90)
