"""The stroke that a page's borders are drawn with, by which other strokes are known to be borders."""

from collections.abc import Sequence

import numpy as np

from board.vision.convex_polygons import convex_hull
from board.vision.frame_lines import FrameLine
from board.vision.frame_sides import HALF_STROKE, bleed_off
from board.vision.page_ground import PageGround
from board.vision.page_piece import Piece, PieceScale
from board.vision.ruled_strokes import RuledStroke
from board.vision.shared_borders import stroke_along

# From trials on drawn pages, no source.
LEAST_SIDE = 0.6  # of a piece's length that a line has to run along to be one of its sides
LEAST_SHARE = 0.8  # of it that a stroke covers
MOST_HIDDEN = 0.4  # of a side, under balloons
MOST_SIDES = 4  # the longest
LEAST_INKED = 0.5  # of them: what is painted up to its limits is dark along some of them too
AT_EDGE_PX = 4  # so near to the picture's edge a side bleeds off


def pen_of(pieces: Sequence[tuple[Piece, list[FrameLine]]], page: PageGround, scale: PieceScale) -> RuledStroke | None:
    """The median stroke along the outer sides of pieces, each with its straight lines; None where nothing is drawn along them."""
    outer = [(line, piece) for piece, lines in pieces for line in _outer(piece, lines, scale)]
    longest = sorted(outer, key=lambda side: -side[0].support)
    ends = [_ends(*side, scale) for side in longest]
    within = [line for line in ends if not bleed_off(line[None], page.gray, AT_EDGE_PX).any()][:MOST_SIDES]
    found = [stroke_along(page.gray, line, scale, page.balloons, LEAST_SHARE) for line in within]
    kept = [stroke for stroke in found if stroke.share >= LEAST_SHARE and stroke.hidden <= MOST_HIDDEN]
    if not kept or len(kept) < LEAST_INKED * len(found):
        return None
    share, wobble, value, width = np.median([(one.share, one.wobble_px, one.value, one.width_px) for one in kept], axis=0)
    return RuledStroke(float(share), float(wobble), float(value), float(width))


def _outer(piece: Piece, lines: list[FrameLine], scale: PieceScale) -> list[FrameLine]:
    hull = convex_hull(piece.mask)
    furthest = 3 * scale.line_tolerance_px + 0.01 * scale.longer_px  # strokes run on past corners, and balloons over sides
    outermost = [line for line in lines if line.height_of(hull).max() <= furthest]
    return [line for line in outermost if line.support >= LEAST_SIDE * np.ptp(hull @ line.along)]


def _ends(line: FrameLine, piece: Piece, scale: PieceScale) -> np.ndarray:
    """A line runs along the outer edge of its stroke."""
    start = line.normal * (line.offset - HALF_STROKE * scale.longer_px) + (piece.left, piece.top)
    return np.array([start + line.along * end for end in line.span])
