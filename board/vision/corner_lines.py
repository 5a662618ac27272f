"""Lines that run into the corners of a rectangle from outside: where a room's back wall is seen straight on, its edges do."""

import numpy as np

NEAR_DARK = 40  # grey values above the border's
FROM, TO = 0.007, 0.022  # of the longer side, from a corner: there such a line runs
LEANS = np.radians(np.arange(10, 81, 1.5))  # against level: what leans less is a side that runs on
ASIDE_PX = 2  # so far may it miss the corner
LEAST_DRAWN = 0.85  # of its way. From trials on drawn pages, as the above, no source.
OUTWARD = np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]])


def count_met_corners(gray: np.ndarray, corners: np.ndarray, value: float, longer_px: float) -> int:
    """Into how many of the corners of an upright rectangle a line that leans runs from outside.

    gray: uint8 (H, W). corners: (4, 2) px, clockwise from the upper left. value: the grey value of borders.
    """
    each = zip(corners, OUTWARD, strict=True)
    return sum(_drawn_share(gray, corner, outward, value, longer_px) >= LEAST_DRAWN for corner, outward in each)


def _drawn_share(gray: np.ndarray, corner: np.ndarray, outward: np.ndarray, value: float, longer_px: float) -> float:
    """Of the way out from a corner, on how much of it a line is drawn, at the one of the `LEANS` where that is most."""
    way = np.stack([np.cos(LEANS), np.sin(LEANS)], axis=1) * outward
    aside = np.arange(-ASIDE_PX - 1, ASIDE_PX + 2)[:, None] * np.stack([-way[:, 1], way[:, 0]], axis=1)[:, None, None]
    points = corner + np.arange(FROM * longer_px, TO * longer_px + 1)[:, None, None] * way[:, None, None] + aside
    x, y = (np.clip(np.floor(points[..., k]).astype(int), 0, gray.shape[1 - k] - 1) for k in (0, 1))
    is_dark = gray[y, x] < value + NEAR_DARK
    return float((is_dark[..., :-2] | is_dark[..., 1:-1] | is_dark[..., 2:]).mean(axis=1).max())
