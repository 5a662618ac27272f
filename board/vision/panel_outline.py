"""The outline of one panel: its straight sides carried past whatever sticks out of it or bites into it."""

from dataclasses import dataclass

import cv2
import numpy as np

from board.vision.convex_polygons import clip_by_line, convex_hull, perimeter, polygon_area
from board.vision.frame_lines import find_frame_lines
from board.vision.panel_pieces import Piece, PieceScale

MOST_STICKING_OUT = 0.12  # of the piece; more than that is no balloon tip or hat but a part of the panel
LEAST_FRAMED = 0.55  # of the outline that runs along straight sides


@dataclass(frozen=True)
class PanelOutline:
    """A convex polygon (K, 2) in px of the reduced picture, and how much of it runs along straight sides, 0..1."""

    polygon: np.ndarray
    framed_share: float

    @property
    def framed(self) -> bool:
        return self.framed_share >= LEAST_FRAMED


def outline_of(piece: Piece, scale: PieceScale) -> PanelOutline:
    """The outline of a piece in the frame of the reduced picture."""
    hull = convex_hull(piece.mask)
    lines = find_frame_lines(piece.mask, scale.line_tolerance_px, 0.25 * min(piece.mask.shape))
    polygon, on_sides = hull, 0.0
    for line in lines:
        # The outline points are middles of pixels; the side itself lies half a pixel further out.
        offset = line.offset + 0.5 * float(np.abs(line.normal).sum()) + 0.5 * float(line.normal.sum())
        clipped = clip_by_line(polygon, line.normal, offset)
        if polygon_area(clipped) >= (1 - MOST_STICKING_OUT) * polygon_area(hull):
            polygon = clipped
            on_sides += line.support
    polygon = _plain(polygon, 0.0015 * scale.longer_px)
    return PanelOutline(polygon + (piece.left, piece.top), min(1.0, on_sides / max(1.0, perimeter(polygon))))


def _plain(polygon: np.ndarray, tolerance_px: float) -> np.ndarray:
    """The polygon without the corners that its sides can do without."""
    plain = cv2.approxPolyDP(polygon.astype(np.float32)[:, None], tolerance_px, True)[:, 0]
    return plain.astype(float) if len(plain) >= 3 else polygon
