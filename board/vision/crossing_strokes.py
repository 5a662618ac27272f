"""Thin strokes that run out of panels over gutters and margins, as lines do that a perspective is constructed on."""

import cv2
import numpy as np

from board.vision.page_piece import page_side_px

# Of the longer side of a page, from trials on drawn pages, no source.
THICKEST = 0.0045  # what is thicker is no stroke
LONGEST_CROSSED = 0.018  # so far a stroke may cover a lane along its way: at 4 mm wide, one that runs at 10° or more to it
NARROWEST, WIDEST = 0.006, 0.03  # of a gutter
SHORTEST = 0.06  # of a lane, and of a border: what runs straight for so long is none of the strokes that cross
WIDEST_MARGIN, LONG_BORDER = 0.15, 0.12  # what lies beyond a border of this length is another margin
BORDER = 0.006  # so thick is a border with what lies right beside it
LEAST_ENCLOSED = 0.8  # of the way along a slanted border that no ground lies beyond it
LEAST_SLANT_DEG = 2.0  # less is found as upright or level
PAST_END = 0.02  # so much longer may a border be than what of it is found: at its corners other strokes run past


def bare_under_strokes(paper: np.ndarray, ground: np.ndarray, inked: np.ndarray) -> np.ndarray:
    """`paper` (bool (H, W)) with what thin strokes cover of its gutters, and of its margins as far as a border; borders stay.

    `ground` (bool (H, W)): the paper that is reached from the edge of the picture, as far as it is known; a gutter is, in part.
    `inked` (bool (H, W)): what is plainly darker than the paper, as each stroke is in its middle; where a wash ends there is none.
    A stroke along a gutter stays too, and so does what is no stroke: a balloon, a figure.
    """
    side = page_side_px(paper.shape)
    bare = paper.view(np.uint8)
    drawn = 1 - bare
    near_ink = cv2.dilate(inked.view(np.uint8), np.ones((5, 5), np.uint8))
    strokes = drawn & near_ink & ~_opened(drawn, (_px(THICKEST, side), _px(THICKEST, side)))
    reached, upright, level = ground.view(np.uint8), _long_runs(drawn, side), _turned(_long_runs(_turned(drawn), side))
    long = _px(LONG_BORDER, side)
    long_upright, long_level = _opened(upright, (long, 1)), _opened(level, (1, long))
    if not (long_upright.any() and long_level.any()):  # no frame is drawn on this page
        return paper
    found = _lanes(bare, reached, upright, long_level, side) & ~level
    found |= _turned(_lanes(_turned(bare), _turned(reached), _turned(level), _turned(long_upright), side)) & ~upright
    return paper | (found & strokes & ~_slanted_borders(reached, side)).view(bool)


def _px(share: float, side: float) -> int:
    """Odd: what is opened by an even number of pixels slides by one."""
    return 2 * max(1, round(share * side / 2)) + 1


def _turned(mask: np.ndarray) -> np.ndarray:
    """Rows for columns."""
    return np.ascontiguousarray(mask.T)


def _opened(mask: np.ndarray, size: tuple[int, int]) -> np.ndarray:
    return cv2.morphologyEx(mask, cv2.MORPH_OPEN, np.ones(size, np.uint8), borderType=cv2.BORDER_REPLICATE)


def _long_runs(drawn: np.ndarray, side: float) -> np.ndarray:
    """What of strokes runs upright for as long as a border does; a hand's is a pixel to the left or right now and then."""
    return _opened(cv2.dilate(drawn, np.ones((1, 3), np.uint8)), (_px(SHORTEST, side), 1))


def _slanted_borders(reached: np.ndarray, side: float) -> np.ndarray:
    """The borders of panels that are no upright rectangles: the ground ends along them for long, and beyond them there is none."""
    half = max(1, reached.shape[1] // 2), max(1, reached.shape[0] // 2)
    small = cv2.resize(reached * np.uint8(255), half, interpolation=cv2.INTER_AREA)
    lines = cv2.createLineSegmentDetector().detect(small)[0]
    ends = np.zeros((0, 2, 2)) if lines is None else 2.0 * lines.reshape(-1, 2, 2)
    way = ends[:, 1] - ends[:, 0]
    length = np.hypot(*way.T).clip(1e-9)
    is_slanted = np.abs(way).min(axis=1) > np.sin(np.radians(LEAST_SLANT_DEG)) * length
    thick = _px(BORDER, side)
    across = np.stack([-way[:, 1], way[:, 0]], axis=1) / length[:, None]
    found = np.zeros(reached.shape, np.uint8)
    for (start, end), normal in zip(*(rows[is_slanted & (length >= SHORTEST * side)] for rows in (ends, across)), strict=True):
        along = start + np.linspace(0, 1, 20)[:, None] * (end - start)
        beyond = [_share_of(reached, along + sign * 2 * thick * normal) for sign in (-1, 1)]
        if min(beyond) <= 1 - LEAST_ENCLOSED:
            middle = (thick / 2 if beyond[0] > beyond[1] else -thick / 2) * normal
            past = PAST_END * side * (end - start) / np.hypot(*(end - start))
            (x, y), (to_x, to_y) = np.round([start - past + middle, end + past + middle]).astype(int).tolist()
            cv2.line(found, (x, y), (to_x, to_y), 1, 2 * thick)
    return found


def _share_of(mask: np.ndarray, points: np.ndarray) -> float:
    x, y = np.round(points).astype(int).clip(0, [mask.shape[1] - 1, mask.shape[0] - 1]).T
    return float(mask[y, x].mean())


def _touching(lanes: np.ndarray, reached: np.ndarray) -> np.ndarray:
    """Those of the lanes that are reached somewhere."""
    count, labels = cv2.connectedComponents(lanes, connectivity=8)
    is_reached = np.zeros(count, np.uint8)
    is_reached[labels[(lanes & reached) > 0]] = 1
    return is_reached[labels]


def _lanes(bare: np.ndarray, reached: np.ndarray, upright: np.ndarray, long_level: np.ndarray, side: float) -> np.ndarray:
    """The upright gutters, and the margins to the left and right of upright borders, that are reached somewhere.

    Masks uint8 (H, W), 0 or 1. A long level border parts one margin from the next: beyond it a panel may bleed off.
    """
    bridge = np.ones((_px(LONGEST_CROSSED, side), 1), np.uint8)
    closed = cv2.morphologyEx(bare, cv2.MORPH_CLOSE, bridge, borderType=cv2.BORDER_REPLICATE)
    thin = closed & ~_opened(closed, (1, _px(WIDEST, side)))
    gutters = _opened(_opened(thin, (_px(SHORTEST, side), 1)), (1, _px(NARROWEST, side)))
    margins = _margin(closed, upright, side) | _margin(closed[:, ::-1], upright[:, ::-1], side)[:, ::-1]
    return _touching(gutters, reached) | _touching(margins & ~long_level, reached)


def _margin(closed: np.ndarray, upright: np.ndarray, side: float) -> np.ndarray:
    """What lies to the left of the first border of each row, where nothing else stands there."""
    near = np.ascontiguousarray(closed[:, : _px(WIDEST_MARGIN, side)])
    end = np.where(near.all(axis=1), 0, near.argmin(axis=1))
    rows = np.arange(len(end))
    at_border = upright[rows, end] | upright[rows, np.minimum(end + 2, closed.shape[1] - 1)]
    margin = np.zeros(closed.shape, np.uint8)
    margin[:, : near.shape[1]] = np.arange(near.shape[1]) < np.where(at_border, end, 0)[:, None]
    return margin
