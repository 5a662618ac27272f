"""Takes the rules of ruled and squared paper out of a picture: pale lines from edge to edge, evenly apart."""

import cv2
import numpy as np

from board.vision.page_piece import page_side_px
from board.vision.shared_borders import runs_of

# From trials on drawn pages, no source.
MARGIN = 0.005, 0.035  # of the picture's side, at either end of a rule: where it is looked for
LEAST_DIP, DARKEST = 3, 130  # grey values: so much darker than the paper beside it a rule is, and no darker than this
UNBROKEN = 80  # per cent of its way there: rows of a tone of dots have as much white in them
THICKEST = 0.004  # of the longer side
FEWEST, LEAST_EVEN = 8, 0.85  # rules, and the share of them that are evenly apart
MOST_UNEVEN, LEAST_UNEVEN_PX = 0.00107, 1.5  # what that is: of the longer side, and px of a small picture
STRAYS = 14  # grey values: so much darker a rule may be in places than at the edge of the paper


def without_rules(gray: np.ndarray) -> np.ndarray:
    """`gray` (uint8 (H, W)) without level and upright rules; the same array where it has none.

    Only rules along the picture's own axes: those of a sheet that was scanned askew stay.
    """
    side_px = page_side_px(gray.shape)
    thickest, uneven_px = 2 * round(THICKEST * side_px / 2) + 1, max(LEAST_UNEVEN_PX, MOST_UNEVEN * side_px)
    for axis in (0, 1):
        rules = _rules(gray if axis == 0 else gray.T, thickest, uneven_px)
        if rules:
            gray = _filled(gray if axis == 0 else gray.T, rules, thickest)
            gray = gray if axis == 0 else np.ascontiguousarray(gray.T)
    return gray


def _rules(gray: np.ndarray, thickest: int, uneven_px: float) -> list[tuple[int, int, int]]:
    """Of each level rule its rows, from and to, and its grey value; [] where what is found is not evenly apart."""
    near, far = (round(share * gray.shape[1]) for share in MARGIN)
    if far <= near or len(gray) < FEWEST * thickest:
        return []
    sides = gray[:, near:far], gray[:, -far : -near or None]
    ends = [np.percentile(side, UNBROKEN, axis=1).astype(np.uint8)[:, None] for side in sides]
    reach = np.ones((2 * thickest + 1, 1), np.uint8)
    dips = [cv2.morphologyEx(end, cv2.MORPH_CLOSE, reach).astype(int) - end for end in ends]
    is_rule = np.minimum(*dips)[:, 0] >= LEAST_DIP
    value = np.minimum(*ends)[:, 0]
    runs = [(a, b) for a, b in runs_of(is_rule) if b - a <= thickest and value[a:b].min() >= DARKEST]
    if len(runs) < FEWEST:
        return []
    apart = np.diff([(a + b) / 2 for a, b in runs])
    step = float(np.median(apart))
    even = np.abs(apart - step * np.round(apart / step)) <= uneven_px
    return [(a, b, int(value[a:b].min())) for a, b in runs] if even.mean() >= LEAST_EVEN else []


def _filled(gray: np.ndarray, rules: list[tuple[int, int, int]], thickest: int) -> np.ndarray:
    """`gray` with what is as pale as a rule, on its rows, as bright as what lies beside it."""
    beside = cv2.morphologyEx(gray, cv2.MORPH_CLOSE, np.ones((2 * thickest + 1, 1), np.uint8))
    filled = gray.copy()
    for a, b, value in rules:
        rows = slice(max(0, a - 1), b + 1)
        filled[rows] = np.where(gray[rows] >= value - STRAYS, beside[rows], gray[rows])
    return filled
