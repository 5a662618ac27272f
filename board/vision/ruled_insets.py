"""Insets drawn straight onto their host: four strokes ruled like the host's own border that close a rectangle within it."""

from itertools import product

import cv2
import numpy as np

from board.vision.page_piece import PieceScale
from board.vision.ruled_strokes import RuledStroke
from board.vision.shared_borders import NEAR_DARK, border_of, is_ruled_like, stroke_along

# From trials on pages and drawn layouts, no source.
LEAST_HOST = 0.1  # of the picture
LEAST_INSET, MOST_INSET = 0.02, 0.06  # of the picture: windows and doors may be drawn as straight, and are mostly smaller or larger
LEAST_SIDE = 0.06  # of the longer side of the page
CLEAR = 0.02  # of the longer side: so far an inset stands from its host's border
LEAST_COVERED = 0.75  # of one side of it: a balloon may lie over the rest
LEAST_ALL_ROUND = 0.88
LEAST_WIDTH = 0.95  # of the host's border
SHARP = 40  # of the Laplacian: a line and no grain
FULLER = 1.5  # times as much drawn within an inset as around it
MOST_STROKES = 12  # of each direction, the longest

Stroke = tuple[float, float, float]  # from, to, and where across


def find_ruled_insets(gray: np.ndarray, frames: list[np.ndarray], scale: PieceScale) -> list[np.ndarray]:
    """Upright insets (4, 2) in px of `gray` (uint8 (H, W)), at most one within each of the `frames`."""
    found = []
    for frame in frames:
        size = np.ptp(frame, axis=0)
        border = border_of(gray, frame, scale) if size[0] * size[1] >= LEAST_HOST * scale.area_px else None
        inset = _largest_inset(gray, frame, border, scale) if border else None
        found += [inset] if inset is not None else []
    return found


def _largest_inset(gray: np.ndarray, frame: np.ndarray, border: RuledStroke, scale: PieceScale) -> np.ndarray | None:
    clear = CLEAR * scale.longer_px
    left, top = np.ceil(frame.min(axis=0) + clear).astype(int)
    right, bottom = np.floor(frame.max(axis=0) - clear).astype(int)
    dark = (gray[top:bottom, left:right] <= border.value + NEAR_DARK).astype(np.uint8)
    level, upright = (_long_strokes(mask, scale) for mask in (dark, np.ascontiguousarray(dark.T)))
    best, best_area = None, LEAST_INSET * scale.area_px
    for (upper, lower), (first, last) in product(_pairs(level, scale), _pairs(upright, scale)):
        corners = np.array([[first[2], upper[2]], [last[2], upper[2]], [last[2], lower[2]], [first[2], lower[2]]]) + (left, top)
        area = (last[2] - first[2]) * (lower[2] - upper[2])
        meets = _spans(upper, lower, first[2], last[2]) and _spans(first, last, upper[2], lower[2])
        if meets and best_area <= area <= MOST_INSET * scale.area_px and _is_framed(gray, corners, border, scale):
            best, best_area = corners, area
    return best


def _long_strokes(dark: np.ndarray, scale: PieceScale) -> list[Stroke]:
    """The long thin strokes along the rows of a mask (uint8 (h, w)), longest first."""
    least, thick = round(LEAST_SIDE * scale.longer_px), round(0.012 * scale.longer_px)
    if min(dark.shape, default=0) < least:
        return []
    near = cv2.dilate(dark, np.ones((2 * round(0.002 * scale.longer_px) + 1, 1), np.uint8))
    closed = cv2.morphologyEx(near, cv2.MORPH_CLOSE, np.ones((1, 9), np.uint8))
    long = cv2.morphologyEx(closed, cv2.MORPH_OPEN, np.ones((1, least), np.uint8))
    count, _, stats, middles = cv2.connectedComponentsWithStats(long, connectivity=8)
    strokes = [(float(x), float(x + width), float(middles[k + 1][1])) for k, (x, _, width, height, _) in enumerate(stats[1:count])
               if height <= thick]
    return sorted(strokes, key=lambda stroke: stroke[0] - stroke[1])[:MOST_STROKES]


def _pairs(strokes: list[Stroke], scale: PieceScale) -> list[tuple[Stroke, Stroke]]:
    return [(a, b) for a in strokes for b in strokes if b[2] - a[2] >= LEAST_SIDE * scale.longer_px]


def _spans(a: Stroke, b: Stroke, start: float, end: float) -> bool:
    """Whether both strokes run over most of the way from `start` to `end`."""
    return all(min(stroke[1], end) - max(stroke[0], start) >= LEAST_COVERED * (end - start) for stroke in (a, b))


def _is_framed(gray: np.ndarray, corners: np.ndarray, border: RuledStroke, scale: PieceScale) -> bool:
    sides = [stroke_along(gray, ends, scale) for ends in np.stack([corners, np.roll(corners, -1, axis=0)], axis=1)]
    shares = [side.share for side in sides]
    if min(shares) < LEAST_COVERED or np.mean(shares) < LEAST_ALL_ROUND:
        return False
    wobble, value, width = np.median([(side.wobble_px, side.value, side.width_px) for side in sides], axis=0)
    is_ruled = is_ruled_like(RuledStroke(1.0, float(wobble), float(value), float(width)), border)
    return is_ruled and width >= LEAST_WIDTH * border.width_px and _is_fuller_than_around(gray, corners, scale)


def _is_fuller_than_around(gray: np.ndarray, corners: np.ndarray, scale: PieceScale) -> bool:
    """Whether more is drawn within a rectangle than around it: an inset holds a whole scene, a door or a crate is bare."""
    edge, band = round(0.008 * scale.longer_px), round(0.06 * scale.longer_px)
    (left, top), (right, bottom) = np.round(corners[0]).astype(int), np.round(corners[2]).astype(int)
    x, y = max(0, left - band), max(0, top - band)
    drawn = np.abs(cv2.Laplacian(gray[y : bottom + band, x : right + band], cv2.CV_16S, ksize=3)) > SHARP
    within = drawn[top + edge - y : bottom - edge - y, left + edge - x : right - edge - x]
    inner = float(within.mean()) if within.size else 0.0
    drawn[top - edge - y : bottom + edge - y, left - edge - x : right + edge - x] = False
    taken = (bottom - top + 2 * edge) * (right - left + 2 * edge)
    return inner >= FULLER * float(drawn.sum()) / max(1, drawn.size - taken)
