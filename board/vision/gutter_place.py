"""Where a gutter may run through a piece of the page, with what is measured of it there."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from board.vision.gutter_strip import GutterStrip, measure_strip
from board.vision.page_ground import PageGround
from board.vision.page_piece import Piece, PieceScale
from board.vision.ruled_strokes import RuledStroke
from board.vision.shared_borders import stroke_along

# From trials on pages and drawn layouts, no source.
PAST_END, FURTHER = 0.02, 0.2  # of the longer side: from there, and for so long, a gutter is looked for beyond a piece
LEAST_STROKE = 0.4  # of a flank: what covers less is no border
LEAST_CLOSED = 0.85  # where strokes that stick out close it

Chord = tuple[np.ndarray, np.ndarray]


@dataclass(frozen=True)
class GutterPlace:
    """Where a gutter may run: along `normal` . p, between two points of the page at the sides of a piece."""

    piece: Piece
    normal: np.ndarray
    ends: Chord
    strip: GutterStrip
    page: PageGround
    scale: PieceScale

    @cached_property
    def near_stroke(self) -> RuledStroke:
        return self._stroke_along(self.strip.near - 1)

    @cached_property
    def far_stroke(self) -> RuledStroke:
        return self._stroke_along(self.strip.far + 1)

    def _stroke_along(self, at: float) -> RuledStroke:
        line = np.stack([end + (at - end @ self.normal) * self.normal for end in self.ends])
        return stroke_along(self.page.gray, line, self.scale, self.page.balloons, LEAST_STROKE)


def goes_on(place: GutterPlace) -> bool:
    """Whether the strip, beyond the piece that it runs through, is a gutter of ground: panels stand in tiers and columns."""
    strip, scale = place.strip, place.scale
    for start, beyond in ways_on(place):
        middle = (strip.near + strip.far) / 2
        on = measure_strip(place.page, (start, beyond), place.normal, middle, scale.longer_px, scale.line_tolerance_px)
        apart = max(abs(on.near - strip.near), abs(on.far - strip.far))
        if on.open_share >= LEAST_CLOSED and apart <= 2 * scale.line_tolerance_px:
            return True
    return False


def ways_on(place: GutterPlace) -> list[Chord]:
    """From where to where the strip may go on beyond either end, so far as there is room on the page."""
    ends, normal, scale = place.ends, place.normal, place.scale
    run = (ends[1] - ends[0]) / max(1e-9, float(np.hypot(*(ends[1] - ends[0]))))
    middle = (place.strip.near + place.strip.far) / 2
    limit = np.array(place.page.ground.shape[::-1], float)
    ways = []
    for end, way in ((ends[1], run), (ends[0], -run)):
        start = end + (PAST_END * scale.longer_px) * way
        start = start + (middle - float(start @ normal)) * normal
        beyond = np.clip(start + (FURTHER * scale.longer_px) * way, 0, limit - 1)
        if np.hypot(*(beyond - start)) >= FURTHER / 2 * scale.longer_px and (beyond - start) @ way >= 0:
            ways.append((start, beyond))
    return ways
