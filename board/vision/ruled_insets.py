"""Insets drawn straight onto their host: four strokes ruled like the host's own border that close a rectangle within it."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property

import cv2
import numpy as np

from board.vision.convex_polygons import shared_area
from board.vision.page_piece import PieceScale
from board.vision.ruled_strokes import RuledStroke
from board.vision.shared_borders import NEAR_DARK, STRAYS, border_of, is_ruled_like, stroke_along

# From trials on pages and drawn layouts, no source.
LEAST_HOST = 0.1  # of the picture
LEAST_INSET, MOST_INSET = 0.02, 0.06  # of the picture: windows and doors may be drawn as straight, and are mostly smaller or larger
LEAST_SIDE = 0.06  # of the longer side of the page
CLEAR = 0.02  # of the longer side: so far an inset stands from its host's border
LEAST_COVERED = 0.9  # of one side of it, where no balloon lies over it
MOST_HIDDEN = 0.6  # of one side of it, under a balloon
LEAST_ALL_ROUND = 0.94
LEAST_WIDTH, MOST_WIDTH = 0.9, 1.3  # of the host's border: one pen draws both, and windows mostly have two lines or another's
SHARP = 40  # of the Laplacian: a line and no grain
FULLER = 1.25  # times as much drawn within an inset as around it
LEAST_DRAWN = 0.18  # of it
# Of one that holds less, as in a thumbnail, the border has to be as straight as the host's.
LEAST_DRAWN_BARE, STRAYS_BARE = 0.05, 1.0
LEAST_SIDE_WIDTH = 0.7  # of it, of the thinnest of its sides
ABOUT_MIDDLE, LEAST_BAR = 0.15, 0.95  # of its sides: where a bar parts a window, and how long it is
MOST_PAST = 0.04  # of the longer side: so far may the sides of one run on past its corners
MOST_LONG = 3.0  # of its shorter side
MOST_STROKES = 30  # of each direction, the longest
DARK_ALONG, DARK_BESIDE = 0.9, 0.6  # of the way: on a stroke, and on one side of it at least
BESIDE = 0.006  # of the longer side: there a stroke has surely ended


def find_ruled_insets(gray: np.ndarray, frames: list[np.ndarray], scale: PieceScale, balloons: np.ndarray) -> list[np.ndarray]:
    """Upright insets (4, 2) in px of `gray` (uint8 (H, W)), at most one within each of the `frames`.

    balloons: bool (H, W), what lies over the drawing.
    """
    found, page = [], _Page(gray, scale, balloons)
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


@dataclass(frozen=True)
class _Page:
    gray: np.ndarray
    scale: PieceScale
    balloons: np.ndarray
    sides: dict[bytes, RuledStroke] = field(default_factory=dict)

    def side(self, ends: np.ndarray) -> RuledStroke:
        """The stroke between two points (2, 2): rectangles by the dozen have a side in common."""
        key = ends.tobytes()
        if key not in self.sides:
            self.sides[key] = stroke_along(self.gray, ends, self.scale, self.balloons, LEAST_COVERED)
        return self.sides[key]

    @cached_property
    def drawn_before(self) -> np.ndarray:
        """How many px above and left of each (int32 (H + 1, W + 1)) are drawn on."""
        return cv2.integral((np.abs(cv2.Laplacian(self.gray, cv2.CV_16S, ksize=3)) > SHARP).astype(np.uint8))

    def drawn(self, left: int, top: int, right: int, bottom: int) -> tuple[int, int]:
        """Px that are drawn on, and all px, of a part of the page."""
        height, width = self.gray.shape
        (x0, x1), (y0, y1) = np.clip((left, right), 0, width), np.clip((top, bottom), 0, height)
        before = self.drawn_before
        return int(before[y1, x1] - before[y0, x1] - before[y1, x0] + before[y0, x0]), int((x1 - x0) * (y1 - y0))


def _likeliest_inset(page: _Page, frame: np.ndarray, border: RuledStroke) -> np.ndarray | None:
    gray, scale = page.gray, page.scale
    clear = CLEAR * scale.longer_px
    left, top = np.ceil(frame.min(axis=0) + clear).astype(int)
    right, bottom = np.floor(frame.max(axis=0) - clear).astype(int)
    dark = (gray[top:bottom, left:right] <= border.value + NEAR_DARK).astype(np.uint8)
    level, upright = (_long_strokes(mask, scale) for mask in (dark, np.ascontiguousarray(dark.T)))
    best, best_worth = None, 0.0
    for rectangle in _rectangles(level, upright, scale):
        worth = _worth(page, rectangle + (left, top), border)
        if worth > best_worth and not _has_bar(rectangle, level, upright):
            best, best_worth = rectangle + (left, top), worth
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
    return (run >= (1 - MOST_HIDDEN) * (ends[..., 1:] - ends[..., :1])).all(axis=-1)


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
    count, _, stats, middles = cv2.connectedComponentsWithStats(run, connectivity=8)
    reach = least // 4  # of the window beyond what was added again
    x, width, height = stats[1:count, cv2.CC_STAT_LEFT], stats[1:count, cv2.CC_STAT_WIDTH], stats[1:count, cv2.CC_STAT_HEIGHT]
    strokes = np.stack([x - reach, x + width + reach, middles[1:count, 1] + 0.5], axis=1)[height <= 2 * beside]
    return strokes[np.argsort(strokes[:, 0] - strokes[:, 1], kind="stable")][:MOST_STROKES]


def _worth(page: _Page, corners: np.ndarray, border: RuledStroke) -> float:
    """How much speaks for an inset with these corners (4, 2): more for one that is framed all round, fuller than what is around it,
    and large. 0 where it is none."""
    within, around = _drawn_shares(page, corners)
    if within < LEAST_DRAWN_BARE:
        return 0.0
    is_full = within >= max(LEAST_DRAWN, FULLER * around)
    sides: list[RuledStroke] = []
    for ends in np.stack([corners, np.roll(corners, -1, axis=0)], axis=1):
        side = page.side(ends)
        sides.append(side)
        is_thin = side.width_px < LEAST_SIDE_WIDTH * border.width_px
        at_best = (sum(one.share for one in sides) + 4 - len(sides)) / 4
        if is_thin or side.share < LEAST_COVERED or side.hidden > MOST_HIDDEN or at_best < LEAST_ALL_ROUND:
            return 0.0
    wobble, value, width = np.median([(side.wobble_px, side.value, side.width_px) for side in sides], axis=0)
    stroke = RuledStroke(1.0, float(wobble), float(value), float(width))
    is_of_one_pen = LEAST_WIDTH <= width / border.width_px <= MOST_WIDTH
    if not is_of_one_pen or not is_ruled_like(stroke, border, STRAYS if is_full else STRAYS_BARE):
        return 0.0
    area = float(np.ptp(corners[:, 0]) * np.ptp(corners[:, 1])) / page.scale.area_px
    return max(within, LEAST_DRAWN) / max(around, LEAST_DRAWN / FULLER) * at_best**4 * area**0.5


def _drawn_shares(page: _Page, corners: np.ndarray) -> tuple[float, float]:
    """Of a rectangle and of what is around it, the share on which something is drawn: an inset holds a whole scene, a door or a
    crate is bare."""
    edge, band = round(0.008 * page.scale.longer_px), round(0.06 * page.scale.longer_px)
    (left, top), (right, bottom) = np.round(corners[0]).astype(int), np.round(corners[2]).astype(int)
    inner, whole, taken = (page.drawn(left - by, top - by, right + by, bottom + by) for by in (-edge, band, edge))
    return inner[0] / max(1, inner[1]), (whole[0] - taken[0]) / max(1, whole[1] - taken[1])
