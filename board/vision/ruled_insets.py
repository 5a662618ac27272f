"""Insets drawn straight onto their host: four strokes ruled like the host's own border that close a rectangle within it."""

from collections.abc import Iterator

import cv2
import numpy as np

from board.vision.convex_polygons import shared_area
from board.vision.inset_evidence import BESIDE, InsetPage, signs_of, with_ends
from board.vision.inset_signs import log_odds
from board.vision.page_piece import PieceScale
from board.vision.ruled_strokes import RuledStroke
from board.vision.shared_borders import NEAR_DARK, border_of, is_ruled_like, runs_of

# From trials on pages and drawn layouts, no source.
LEAST_HOST = 0.1  # of the picture
LEAST_INSET, MOST_INSET = 0.02, 0.06  # of the picture: windows and doors may be drawn as straight, and are mostly smaller or larger
LEAST_SEEN = 0.35  # of a side: the rest may lie under a balloon
LEAST_SIDE = 0.06  # of the longer side of the page
CLEAR = 0.02  # of the longer side: so far an inset stands from its host's border
LEAST_ODDS = -0.5  # logarithm: most of what is wrongly told is a part of an inset
LARGER = 10.0  # nats for each natural logarithm of the area: 11 for one three times as large
LEAST_WIDTH = 0.9  # of the host's border, of a frame that stands free in it
ABOUT_MIDDLE, LEAST_BAR = 0.15, 0.95  # of its sides: where a bar parts a window, and how long it is
MOST_PAST = 0.04  # of the longer side: so far may the sides of one run on past its corners
MOST_LONG = 3.0  # of its shorter side
MOST_STROKES = 30  # of each direction, the longest
LEAST_LEVEL = 0.8  # of the width of what hangs together, of a level stroke in it
DARK_ALONG, DARK_BESIDE = 0.9, 0.6  # of the way: on a stroke, and on one side of it at least


def find_ruled_insets(gray: np.ndarray, frames: list[np.ndarray], scale: PieceScale, balloons: np.ndarray) -> list[np.ndarray]:
    """Upright insets (4, 2) in px of `gray` (uint8 (H, W)), at most one within each of the `frames`.

    balloons: bool (H, W), what lies over the drawing.
    """
    found, page = [], InsetPage(gray, scale, balloons)
    for frame in frames:
        size = np.ptp(frame, axis=0)
        border = border_of(gray, frame, scale) if size[0] * size[1] >= LEAST_HOST * scale.area_px else None
        inset = _likeliest_inset(page, frame, border) if border else None
        found += [inset] if inset is not None else []
    return found


def is_bordered_like_host(
    gray: np.ndarray, inset: np.ndarray, frames: list[np.ndarray], pen: RuledStroke | None, scale: PieceScale
) -> bool:
    """Whether a frame (K, 2) that stands in one of the `frames` has a border as that has, or else as the page's `pen` draws; so too
    where there is neither to tell by."""
    host = max(frames, key=lambda frame: shared_area(frame, inset), default=None)
    border = (border_of(gray, host, scale) if host is not None else None) or pen
    own = border_of(gray, inset, scale) if border else None
    return border is None or (own is not None and is_ruled_like(own, border) and own.width_px >= LEAST_WIDTH * border.width_px)


def _likeliest_inset(page: InsetPage, frame: np.ndarray, border: RuledStroke) -> np.ndarray | None:
    gray, scale = page.gray, page.scale
    clear = CLEAR * scale.longer_px
    left, top = np.ceil(frame.min(axis=0) + clear).astype(int)
    right, bottom = np.floor(frame.max(axis=0) - clear).astype(int)
    dark = (gray[top:bottom, left:right] <= border.value + NEAR_DARK).astype(np.uint8)
    level, upright = (_long_strokes(mask, scale) for mask in (dark, np.ascontiguousarray(dark.T)))
    best, best_worth = None, -np.inf
    for rectangle in _rectangles(level, upright, scale):
        corners = rectangle + (left, top)
        signs = None if _has_bar(rectangle, level, upright) else signs_of(page, corners, border)
        if signs is None or log_odds(signs) <= LEAST_ODDS:
            continue
        odds = log_odds(with_ends(signs, page, corners, border.value))
        # Lines within an inset close smaller rectangles with its own sides.
        worth = odds + LARGER * np.log(np.prod(rectangle[2] - rectangle[0]))
        if odds > LEAST_ODDS and worth > best_worth:
            best, best_worth = corners, worth
    return best


def _has_bar(corners: np.ndarray, level: np.ndarray, upright: np.ndarray) -> bool:
    """Whether a stroke from side to side parts a rectangle about its middle, as windows, doors and shelves are parted."""
    low, high = corners[0], corners[2]
    for axis, strokes in ((1, level), (0, upright)):
        place = (strokes[:, 2] - low[axis]) / (high[axis] - low[axis])
        run = np.minimum(strokes[:, 1], high[1 - axis]) - np.maximum(strokes[:, 0], low[1 - axis])
        if np.any((np.abs(place - 0.5) <= ABOUT_MIDDLE) & (run >= LEAST_BAR * (high[1 - axis] - low[1 - axis]))):
            return True
    return False


def _rectangles(level: np.ndarray, upright: np.ndarray, scale: PieceScale) -> Iterator[np.ndarray]:
    """The rectangles (4, 2) of an inset's size that two strokes of each direction may close."""
    across, down = (_pairs(strokes, scale) for strokes in (level, upright))
    upper, lower = across[None, :, :, 2].transpose(2, 0, 1)
    first, last = down[:, None, :, 2].transpose(2, 0, 1)
    widths, heights = last - first, lower - upper  # (pairs down, 1), (1, pairs across)
    areas = widths * heights
    is_inset = (areas >= LEAST_INSET * scale.area_px) & (areas <= MOST_INSET * scale.area_px)
    is_inset &= np.maximum(widths, heights) <= MOST_LONG * np.minimum(widths, heights)
    is_inset &= _span(across[None], down[:, None, :, 2]) & _span(down[:, None], across[None, :, :, 2])
    most_px = MOST_PAST * scale.longer_px
    is_inset &= ~_run_on(across[None], down[:, None, :, 2], most_px) & ~_run_on(down[:, None], across[None, :, :, 2], most_px)
    for j, i in np.argwhere(is_inset):
        (top, bottom), (left, right) = across[i, :, 2], down[j, :, 2]
        yield np.array([[left, top], [right, top], [right, bottom], [left, bottom]])


def _pairs(strokes: np.ndarray, scale: PieceScale) -> np.ndarray:
    """Of strokes (N, 3) of one direction, those two and two (P, 2, 3) that may be the opposite sides of an inset."""
    apart = strokes[None, :, 2] - strokes[:, None, 2]
    return strokes[np.argwhere(apart >= LEAST_SIDE * scale.longer_px)].reshape(-1, 2, 3)


def _run_on(pairs: np.ndarray, ends: np.ndarray, most_px: float) -> np.ndarray:
    """Of which pairs of strokes (..., 2, 3) both run on past one of two places (..., 2): they close a larger rectangle."""
    before, past = ends[..., 0] - pairs[..., 0].max(axis=-1), pairs[..., 1].min(axis=-1) - ends[..., 1]
    return np.maximum(before, past) > most_px


def _span(pairs: np.ndarray, ends: np.ndarray) -> np.ndarray:
    """Which pairs of strokes (..., 2, 3) run over much of the way between two places (..., 2)."""
    run = np.minimum(pairs[..., 1], ends[..., 1:]) - np.maximum(pairs[..., 0], ends[..., :1])
    return (run >= LEAST_SEEN * (ends[..., 1:] - ends[..., :1])).all(axis=-1)


def _long_strokes(dark: np.ndarray, scale: PieceScale) -> np.ndarray:
    """The long thin strokes along the rows of a mask (uint8 (h, w)): from, to, and where across (N, 3), longest first. What is
    drawn close to one side of them may be as dark as they are."""
    least, beside = round(LEAST_SIDE * scale.longer_px), round(BESIDE * scale.longer_px)
    if min(dark.shape, default=0) < max(least, 2 * beside + 1):
        return np.zeros((0, 3))
    near = cv2.dilate(dark, np.ones((3, 1), np.uint8))
    share = cv2.blur(near.astype(np.float32), (least, 1), borderType=cv2.BORDER_CONSTANT)
    padded = cv2.copyMakeBorder(share, beside, beside, 0, 0, cv2.BORDER_CONSTANT, value=0)
    is_stroke = (share >= DARK_ALONG) & (np.minimum(padded[: -2 * beside], padded[2 * beside :]) <= DARK_BESIDE)
    run = cv2.dilate(is_stroke.astype(np.uint8), np.ones((1, least // 2), np.uint8))
    count, labels, stats, middles = cv2.connectedComponentsWithStats(run, connectivity=8)
    reach = least // 4  # of the window beyond what was added again
    x, width, height = stats[1:count, cv2.CC_STAT_LEFT], stats[1:count, cv2.CC_STAT_WIDTH], stats[1:count, cv2.CC_STAT_HEIGHT]
    strokes = np.stack([x - reach, x + width + reach, middles[1:count, 1] + 0.5], axis=1)[height <= 2 * beside]
    tall = (1 + np.flatnonzero(height > 2 * beside)).tolist()
    joined = [stroke for k in tall for stroke in _level_strokes(labels, k, stats[k], reach, beside)]
    strokes = np.concatenate([strokes, np.array(joined).reshape(-1, 3)])
    return strokes[np.argsort(strokes[:, 0] - strokes[:, 1], kind="stable")][:MOST_STROKES]


def _level_strokes(labels: np.ndarray, k: int, box: np.ndarray, reach: int, beside: int) -> list[tuple[float, float, float]]:
    """From, to, and where across of the strokes that run nearly all the width of part `k`: what hangs on them leans."""
    left, top, width, height = box[:4]
    is_level = (labels[top : top + height, left : left + width] == k).mean(axis=1) >= LEAST_LEVEL
    return [(left - reach, left + width + reach, top + (a + b) / 2) for a, b in runs_of(is_level) if b - a <= 2 * beside]
