"""Which grey value the ground of a page has, and how far it strays."""

import cv2
import numpy as np

from board.vision.even_light import LIGHT, rim_of
from board.vision.page_piece import page_side_px

# Neither antialiasing nor the noise of a scan is drawing; from trials on pages and on drawn layouts, no source.
LEAST_TOLERANCE = 6
MOST_TOLERANCE = 24
TONED = (8, 240)  # between black and white
LEAST_SHOWN = 0.02  # of every side of a page shows its toned ground
# White as a computer fills it: of the rim, and times what is next to it. A part of what another value has in strips.
WHITE, LEAST_WHITE, OVER_NEXT, AS_WELL = 255, 0.01, 4, 0.8
LARGEST_SPECK_PX = 2  # of every third pixel


def ground_value(gray: np.ndarray) -> tuple[int, float]:
    """Value and tolerance: the value that every side of the picture shows most, or, where panels bleed off, that of the gutters."""
    rim = rim_of(gray)
    counts = np.bincount(rim, minlength=256).astype(float)
    shares = np.convolve(counts, np.ones(2 * LEAST_TOLERANCE + 1), "same") / rim.size
    value, reach = int(shares.argmax()), LEAST_TOLERANCE + 3
    if least_side_share(gray, value) < 0.4 or TONED[0] < value < TONED[1]:
        small = gray[::3, ::3]
        value = max(_candidates(shares), key=lambda level: _likelihood(level, shares, small))
        is_pale = WHITE - value <= 2 * LEAST_TOLERANCE and _white_stands_apart(counts)
        if is_pale and share_of_strips(small, WHITE) >= AS_WELL * share_of_strips(small, value):
            value, reach = WHITE, LEAST_TOLERANCE  # a pale tone that bleeds off counts together with the white of the gutters
    near = rim[np.abs(rim.astype(int) - value) <= reach].astype(float)
    if near.size < 0.05 * rim.size:
        return value, LEAST_TOLERANCE
    middle = float(np.median(near))
    spread = 1.4826 * float(np.median(np.abs(near - middle)))
    return round(middle), float(np.clip(4 * spread + LEAST_TOLERANCE, LEAST_TOLERANCE, MOST_TOLERANCE))


def _white_stands_apart(counts: np.ndarray) -> bool:
    """Whether some of the rim, of which 256 `counts` are given, is white, and hardly any of it nearly so, as scanned paper is."""
    white, next_to_it = counts[WHITE - 1 :].sum(), counts[WHITE - 4 : WHITE - 1].sum()
    return bool(white >= LEAST_WHITE * counts.sum() and white >= OVER_NEXT * next_to_it)


def least_side_share(gray: np.ndarray, level: int) -> float:
    """The share of this value along that side of the picture which shows least of it."""
    sides = gray[0], gray[-1], gray[:, 0], gray[:, -1]
    return min(float(np.mean(np.abs(side.astype(np.int16) - level) <= LEAST_TOLERANCE)) for side in sides)


def _candidates(shares: np.ndarray, most: int = 3) -> list[int]:
    """White, black and the values that the rim shows most, each well apart from the others."""
    found = [255, 0]
    left = shares.copy()
    for _ in range(most):
        level = int(left.argmax())
        left[max(0, level - 20) : level + 21] = 0
        found.append(level)
    return found


def _likelihood(level: int, shares: np.ndarray, small: np.ndarray) -> float:
    """A score by trials: how much of the rim and of the gutters has this value, and that paper mostly is white.

    A toned ground has to show at every side of the page: one panel that bleeds off fills much of a rim too, and is full of strips
    of its tones. Paper that is a little grey on a scan is not toned so much.
    """
    rim = least_side_share(small, level) if TONED[0] < level < TONED[1] else shares[level]
    if TONED[0] < level < LIGHT and rim < LEAST_SHOWN:
        return rim
    return rim + 6 * share_of_strips(small, level) + (0.1 if level == 255 else 0.0)


def share_of_strips(small: np.ndarray, level: int) -> float:
    """Share of a picture that is long thin strips of this value, however they lie: gutters."""
    mask = (np.abs(small.astype(np.int16) - level) <= LEAST_TOLERANCE).astype(np.uint8)
    long = max(8, round(0.2 * page_side_px(small.shape)))
    wide = max(3, round(0.05 * page_side_px(small.shape)))
    # OpenCV takes what lies beyond the picture as set in an erosion, so a strip along the edge would count as wide.
    whole = _without_specks(mask)
    padded = cv2.copyMakeBorder(whole, wide, wide, wide, wide, cv2.BORDER_CONSTANT, value=0)
    areas = cv2.morphologyEx(padded, cv2.MORPH_OPEN, np.ones((wide, wide), np.uint8))[wide:-wide, wide:-wide]
    _, labels, stats, _ = cv2.connectedComponentsWithStats(mask & ~areas & 1, connectivity=4)
    lengths, counts = stats[:, 2:4].max(axis=1), stats[:, 4]
    # A strip fills a narrow stretch along its length; the ragged rest around an area winds about and is thinner.
    is_strip = (lengths >= long) & (counts >= 1.5 * lengths)
    is_strip[0] = False
    strips = is_strip[labels].astype(np.uint8)
    beside = (cv2.dilate(strips, np.ones((7, 7), np.uint8)) > 0) & (mask == 0)
    # A gutter ends at an edge; a band of a gradient goes over into the next value.
    sharp = float(np.mean(np.abs(small[beside].astype(np.int16) - level) > 3 * LEAST_TOLERANCE)) if beside.any() else 0.0
    return float(strips.mean()) * sharp * sharp


def _without_specks(mask: np.ndarray) -> np.ndarray:
    """`mask` (uint8 (H, W)) with its pinholes closed: the grain of a toned area would make one ragged strip of it."""
    _, labels, stats, _ = cv2.connectedComponentsWithStats(1 - mask, connectivity=8)
    is_speck = stats[:, 2:4].max(axis=1) <= LARGEST_SPECK_PX
    is_speck[0] = False
    return mask | is_speck[labels]
