"""The outline of one panel: its straight sides carried past whatever sticks out of it or bites into it."""

from dataclasses import dataclass

import cv2
import numpy as np

from board.vision.convex_polygons import convex_hull, perimeter, polygon_area, shared_area
from board.vision.frame_lines import FrameLine, find_frame_lines
from board.vision.frame_polygon import frame_polygon, outer_offset
from board.vision.page_piece import Piece, PieceScale
from board.vision.piece_body import largest_body

# Shares from trials on pages and drawn layouts, no source.
SHORTEST_SIDE = 0.25  # of the shorter side of a piece
MOST_BITTEN_OFF = 0.08  # of the piece that a balloon of the ground's colour hides at one corner
LEAST_FRAMED = 0.55  # of the outline that runs along straight sides
SHARPEST_DEG = 28  # corner of a panel; a sharper wedge mostly is a shape in an open panel's drawing,
LEAST_FRAMED_WEDGE = 0.9  # unless this much of it runs along straight sides
MOST_OF_WHOLE = 0.9  # of what a piece covers with the strokes that hang on it: from there they are no ends of borders
AT_EDGE_PX = 2
LEAST_SIDE = 0.6  # of the piece's length in that direction: the flank of a round shape is straight for less


@dataclass(frozen=True)
class PanelOutline:
    """A convex polygon (K, 2) in px of the reduced picture, its straight sides, and how much of it they cover, 0..1."""

    polygon: np.ndarray
    sides: tuple[FrameLine, ...]
    framed_share: float

    @property
    def framed(self) -> bool:
        least = LEAST_FRAMED if _sharpest_deg(self.polygon) >= SHARPEST_DEG else LEAST_FRAMED_WEDGE
        return self.framed_share >= least


def sides_in(piece: Piece, scale: PieceScale) -> list[FrameLine]:
    """The straight lines along the outline of a piece, in its own frame."""
    return find_frame_lines(piece.mask, scale.line_tolerance_px, SHORTEST_SIDE * min(piece.mask.shape))


def outline_of(piece: Piece, scale: PieceScale, lines: list[FrameLine] | None = None) -> PanelOutline:
    """The outline of a piece in the frame of the reduced picture; lines: `sides_in` it, where they are known."""
    hull = convex_hull(piece.mask)
    lines = sides_in(piece, scale) if lines is None else lines
    polygon, sides = frame_polygon(hull, lines, scale.line_tolerance_px)
    framed = sum(line.support for line in sides if line.support >= LEAST_SIDE * float(np.ptp(hull @ line.along)))
    corner = np.array([piece.left, piece.top], float)
    polygon = _plain(polygon + corner, 0.0015 * scale.longer_px)
    return PanelOutline(polygon, tuple(line.moved(corner) for line in sides), min(1.0, framed / max(1.0, perimeter(polygon))))


def outline_of_body(
    piece: Piece, shape: tuple[int, int], scale: PieceScale, lines: list[FrameLine] | None = None
) -> PanelOutline:
    """The outline of a piece in a picture of this shape; where it reaches an edge, that of its largest part that no thin stroke
    holds together, if that is framed better: a border that bleeds off may hang on the next panel by a stroke across the gutter."""
    whole = outline_of(piece, scale, lines)
    body = largest_body(piece, scale) if whole.framed_share < LEAST_FRAMED_WEDGE and _is_at_edge(piece, shape) else None
    within = outline_of(body, scale) if body else whole
    is_better = within.framed and within.framed_share > whole.framed_share
    is_less = polygon_area(within.polygon) < MOST_OF_WHOLE * polygon_area(whole.polygon)
    return within if is_better and (is_less or not whole.framed) else whole


def _is_at_edge(piece: Piece, shape: tuple[int, int]) -> bool:
    height, width = piece.mask.shape
    return min(piece.left, piece.top, shape[1] - piece.left - width, shape[0] - piece.top - height) <= AT_EDGE_PX


def _sharpest_deg(polygon: np.ndarray) -> float:
    """The smallest angle of a polygon, past blunted corners: between its sides as they run on the whole."""
    plain = _plain(polygon, 0.04 * float(np.ptp(polygon, axis=0).max()))
    before, after = np.roll(plain, 1, axis=0) - plain, np.roll(plain, -1, axis=0) - plain
    cosine = (before * after).sum(axis=1) / np.maximum(np.hypot(*before.T) * np.hypot(*after.T), 1e-9)
    return float(np.degrees(np.arccos(np.clip(cosine, -1, 1))).min())


def with_corners(outline: PanelOutline, others: list[np.ndarray], scale: PieceScale) -> np.ndarray:
    """The polygon with those corners put back where two sides would meet a little outside of it, clear of the `others`."""
    around = sorted(outline.sides, key=lambda line: float(np.arctan2(line.normal[1], line.normal[0])))
    whole, area = outline.polygon, polygon_area(outline.polygon)
    for line, following in zip(around, around[1:] + around[:1], strict=True):
        turn = float(line.normal[0] * following.normal[1] - line.normal[1] * following.normal[0])
        if turn < 0.5:  # sides under 30 degrees apart are one side, bent; over 150 they would meet far off
            continue
        corner = np.linalg.solve(np.stack([line.normal, following.normal]), [outer_offset(line), outer_offset(following)])
        grown = _hull_with(outline.polygon, corner)
        added = polygon_area(grown) - area
        taken = sum(shared_area(grown, other) - shared_area(outline.polygon, other) for other in others)
        if added <= MOST_BITTEN_OFF * area and taken <= 0.1 * added:
            whole = _hull_with(whole, corner)
    return _plain(whole, 0.0015 * scale.longer_px)


def _hull_with(polygon: np.ndarray, corner: np.ndarray) -> np.ndarray:
    return cv2.convexHull(np.vstack([polygon, corner]).astype(np.float32))[:, 0].astype(float)


def _plain(polygon: np.ndarray, tolerance_px: float) -> np.ndarray:
    """The polygon without the corners that its sides can do without."""
    plain = cv2.approxPolyDP(polygon.astype(np.float32)[:, None], tolerance_px, True)[:, 0]
    return plain.astype(float) if len(plain) >= 3 else polygon
