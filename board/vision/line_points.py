"""The points that lines of a picture run through: the middle of every thin dark stroke, and the edges of tones elsewhere.

Sub-pixel, from the second derivatives across a stroke and the gradient's summit across an edge. Source of the first: Steger, An
unbiased detector of curvilinear structures, 1998.
"""

from collections.abc import Callable
from dataclasses import dataclass

import cv2
import numpy as np

SMOOTHED_PX = 1.5  # dark strokes of up to eight pixels are seen as one ridge
LEAST_RIDGE = 6.0  # grey values, second derivative at that smoothing: strokes of 2 to 5 px show from 18 grey values on
LEAST_STEP = 4.0  # grey values per px
INSIDE_PX = 0.6  # a summit lies in its own pixel, or just beyond where its neighbour misses it by rounding
ROWS_AT_ONCE = 32  # of a wide page these stay in the processor's own memory
# Beside a stroke it grows lighter to both sides, beside the dark foot of a tone's edge to one; by this share of the ridge's height.
FLANK_SHARE, FLANKS_PX = 0.4, (2, 3, 4)
STROKE_REACH_PX = 5  # nearer than this the edges are the stroke's own sides


@dataclass(frozen=True)
class LinePoints:
    """N points: `pixel` (N,) flat index; `at` (N, 2) px, pixel centres at whole numbers; `weight` (N,) how strongly it is drawn.

    `along` (N,) radians: the line's direction, 0 to π for strokes; for edges 0 to 2π, the lighter side to the left of it.
    """

    pixel: np.ndarray
    at: np.ndarray
    along: np.ndarray
    weight: np.ndarray


def stroke_and_edge_points(gray: np.ndarray, *, is_toned: bool = False) -> tuple[LinePoints, LinePoints]:
    """Of `gray` uint8 (H, W): the points of its strokes, and those of its edges that are no stroke's sides.

    `is_toned`: of a render or a photograph, where tones of strong contrast meet in grain. At the dark foot of such an edge the
    picture curves as at a stroke, and what was taken for one there would hide the edge itself.
    """
    smooth = cv2.GaussianBlur(gray.astype(np.float32), (0, 0), SMOOTHED_PX)
    x, y = (cv2.Sobel(smooth, cv2.CV_32F, *order, ksize=3, scale=1 / 8) for order in ((1, 0), (0, 1)))
    strokes = _stroke_points(smooth, x, y)
    strokes = _with_two_flanks(strokes, smooth) if is_toned else strokes
    return strokes, _edge_points(x, y, strokes)


def _stroke_points(smooth: np.ndarray, x: np.ndarray, y: np.ndarray) -> LinePoints:
    pixel, xx, yy, xy = _where_it_curves(smooth)
    half = (xx - yy) / 2
    turning = np.sqrt(half * half + xy * xy)
    curving = (xx + yy) / 2 + turning
    # Half the angle by its cosine: for the many points that are no summit no angle is needed.
    even = half / np.maximum(turning, 1e-6)
    cos, sin = np.sqrt((1 + even).clip(0) / 2), np.copysign(np.sqrt((1 - even).clip(0) / 2), xy)
    step = -SMOOTHED_PX**2 * (x.ravel()[pixel] * cos + y.ravel()[pixel] * sin) / curving
    keep = np.flatnonzero((curving > LEAST_RIDGE) & (np.abs(step * cos) <= INSIDE_PX) & (np.abs(step * sin) <= INSIDE_PX))
    pixel, step, cos, sin, half, xy, curving = (a[keep] for a in (pixel, step, cos, sin, half, xy, curving))
    across = 0.5 * np.arctan2(xy, half)
    at = np.stack([pixel % smooth.shape[1] + step * cos, pixel // smooth.shape[1] + step * sin], axis=1)
    return LinePoints(pixel, at, (across + np.pi / 2) % np.pi, curving)


def _with_two_flanks(strokes: LinePoints, smooth: np.ndarray) -> LinePoints:
    height, width = smooth.shape
    across = np.stack([np.sin(strokes.along), -np.cos(strokes.along)], axis=1)
    lighter = np.zeros((2, len(strokes.pixel)), np.float32)
    for side, sign in enumerate((-1, 1)):
        for reach in FLANKS_PX:
            x, y = np.round(strokes.at + sign * reach * across).astype(int).clip(0, [width - 1, height - 1]).T
            np.maximum(lighter[side], smooth[y, x], out=lighter[side])
    two = np.flatnonzero(lighter.min(0) - smooth.ravel()[strokes.pixel] >= FLANK_SHARE * strokes.weight)
    return LinePoints(*(values[two] for values in (strokes.pixel, strokes.at, strokes.along, strokes.weight)))


def _where_it_curves(smooth: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
    """Of `smooth` float32 (H, W): the flat indices (N,) of pixels that may lie on a stroke, and the second derivatives xx, yy, xy
    (N,) there. The same rows at a time as in `_pixels_where`, for the same reason."""
    found = []
    for top in range(0, len(smooth), ROWS_AT_ONCE):
        above = min(top, 1)
        part = smooth[top - above : top + ROWS_AT_ONCE + 1]
        rows = slice(above, above + min(ROWS_AT_ONCE, len(smooth) - top))
        seconds = [cv2.Sobel(part, cv2.CV_32F, *order, ksize=3, scale=SMOOTHED_PX**2 / 4)[rows]
                   for order in ((2, 0), (0, 2), (1, 1))]
        pixel = np.flatnonzero(seconds[0] + seconds[1] > 0.7 * LEAST_RIDGE)
        found.append((pixel + top * smooth.shape[1], *(second.take(pixel) for second in seconds)))
    pixel, xx, yy, xy = (np.concatenate(parts) for parts in zip(*found, strict=True))
    return pixel, xx, yy, xy


def _edge_points(x: np.ndarray, y: np.ndarray, strokes: LinePoints) -> LinePoints:
    height, width = x.shape
    near = np.zeros((height, width), np.uint8)
    near.ravel()[strokes.pixel] = 1
    near = cv2.dilate(near, np.ones((2 * STROKE_REACH_PX + 1,) * 2, np.uint8))
    near[[0, -1]] = near[:, [0, -1]] = 1
    pixel = _pixels_where(lambda rows: (x[rows] * x[rows] + y[rows] * y[rows] > LEAST_STEP**2) & (near[rows] == 0), x.shape)
    gx, gy, here = _gradients(x, y, pixel)
    # The steepest of three in the direction nearest to the gradient's; a parabola through them has the summit.
    dx, dy = np.round(gx / here * 1.3).clip(-1, 1).astype(int), np.round(gy / here * 1.3).clip(-1, 1).astype(int)
    before, after = (_gradients(x, y, pixel + sign * (dy * width + dx))[2] for sign in (-1, 1))
    keep = (here >= before) & (here > after)
    pixel, gx, gy, here, before, after, dx, dy = (a[keep] for a in (pixel, gx, gy, here, before, after, dx, dy))
    # Along the gradient itself, of which the step to the neighbour is a part.
    step = 0.5 * (before - after) / np.minimum(before - 2 * here + after, -1e-6) * (dx * gx + dy * gy) / here
    at = np.stack([pixel % width + step * gx / here, pixel // width + step * gy / here], axis=1)
    return LinePoints(pixel, at, (np.arctan2(gy, gx) + np.pi / 2) % (2 * np.pi), here)


def _gradients(x: np.ndarray, y: np.ndarray, pixel: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """At some pixels (N,) both parts of the gradient `x`, `y` (H, W), and its length."""
    gx, gy = x.ravel()[pixel], y.ravel()[pixel]
    return gx, gy, np.sqrt(gx * gx + gy * gy)


def _pixels_where(holds: Callable[[slice], np.ndarray], shape: tuple[int, ...]) -> np.ndarray:
    """The flat indices (N,) of the pixels for which `holds` (bool, of some rows of a picture) is true.

    A few rows at a time: what is counted for all of a large page at once passes through main memory several times.
    """
    starts = range(0, shape[0], ROWS_AT_ONCE)
    return np.concatenate([np.flatnonzero(holds(slice(at, at + ROWS_AT_ONCE))) + at * shape[1] for at in starts])
