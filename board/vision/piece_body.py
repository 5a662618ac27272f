"""The body of a piece of the page: without what sticks out of its panels."""

import cv2
import numpy as np

from board.vision.connected_parts import connected_parts
from board.vision.convex_polygons import convex_hull
from board.vision.frame_lines import FrameLine
from board.vision.frame_polygon import frame_polygon
from board.vision.page_piece import Piece, PieceScale

# From trials on pages and drawn layouts, no source.
THINNER = 0.004  # of the longer side: a stroke that sticks out is no part of the body of a panel
LONGEST_END = 0.03  # of the longer side: a longer one is
LEAST_BODY_SIDE = 0.6  # of a piece's length that a side of its body runs for


def largest_body(piece: Piece, scale: PieceScale) -> Piece | None:
    """The largest part of a piece that no thin stroke holds together, if it is large enough for a panel."""
    _, opened = _without_strokes(piece.mask, scale)
    labels, stats = connected_parts(opened, 8)
    if len(stats) < 2:
        return None
    k = 1 + int(stats[1:, cv2.CC_STAT_AREA].argmax())
    left, top, width, height, area = stats[k]
    if min(width, height) < scale.least_side_px or area < scale.least_area_px:
        return None
    return Piece(labels[top : top + height, left : left + width] == k, piece.left + int(left), piece.top + int(top))


def _without_strokes(mask: np.ndarray, scale: PieceScale) -> tuple[np.ndarray, np.ndarray]:
    """A piece (bool (H, W)) without its holes, and that without its thin strokes, both uint8."""
    filled = np.zeros(mask.shape, np.uint8)
    contours, _ = cv2.findContours(mask.astype(np.uint8), cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_SIMPLE)
    cv2.drawContours(filled, contours, -1, 1, -1)
    size = 2 * round(THINNER * scale.longer_px) + 1
    padded = cv2.copyMakeBorder(filled, size, size, size, size, cv2.BORDER_CONSTANT, value=0)
    return filled, cv2.morphologyEx(padded, cv2.MORPH_OPEN, np.ones((size, size), np.uint8))[size:-size, size:-size]


def _body(mask: np.ndarray, scale: PieceScale) -> np.ndarray:
    """The hull (K, 2) of a piece without the strokes that run on past its corners."""
    filled, opened = _without_strokes(mask, scale)
    labels, stats = connected_parts(filled & ~opened & 1, 8)
    is_kept = stats[:, 2:4].max(axis=1) > LONGEST_END * scale.longer_px  # a border whose panel lies open
    is_kept[0] = False
    body = is_kept[labels] | (opened > 0)
    return convex_hull(body if body.any() else mask)


def framed_body(mask: np.ndarray, lines: list[FrameLine], scale: PieceScale) -> np.ndarray:
    """The body (K, 2) without the balloons that lie over its sides; a piece of several panels has inner sides, but shorter ones."""
    body = _body(mask, scale)
    sides = [line for line in lines if line.support >= LEAST_BODY_SIDE * float(np.ptp(body @ line.along))]
    return frame_polygon(body, sides, scale.line_tolerance_px)[0]
