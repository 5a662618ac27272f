"""Moves a clicked mark towards the line near it, by as much as that line is likely to be meant.

Along the figure (crown, chin, soles) or across it (sides of head, shoulders, hips), the change of tone at each step is weighed by
how likely a click falls that far off it. The weighed mean is where the line is, their scatter how sure that is: one line alone is
sure, two lines as near as each other are not, and then the click is kept as it was. But no line need pass through the mark at all:
a crown lies under a hat, soles between two shoes. So what is answered is the mean of two cases, the line and the click, and the
sigma is that of both. Our own rule; no source.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from board.figure_landmarks import point_of
from board.page_space import Point

ALONG = ("crown", "chin", "sole", "sole-left", "sole-right")
ACROSS = ("head-left", "head-right", "shoulder-left", "shoulder-right", "hip-left", "hip-right")
REACH = 2.5  # sigmas of a click to either side
BAND = 0.006  # of the figure's height: half width of the strip that is averaged over
LEAST_STEP = 10.0  # grey levels a px: a fainter edge is paper grain or tone
LEAST_HEIGHT_PX = 40.0
WORTH = 0.7  # of a click's sigma: a line that is told no better is not worth moving to
# How often the line near a click is the one meant, as found on drawn figures with hats, hair and beards
MEANT = {"crown": 0.25, "chin": 0.5, "sole": 0.2, "sole-left": 0.2, "sole-right": 0.2}
MEANT_ACROSS = 0.5
LEAST_SIGMA_PX = 0.5
MOST_SIGMA = 0.04  # of the figure's height: pointed at from so far, the line near a mark says nothing
LINE_REACH = 0.03  # of the figure's height, to either side: what is dark farther is no line, but an area
NOT_SAID: Mapping[str, float] = MappingProxyType({})


@dataclass(frozen=True)
class SnappedMark:
    """`point` px; `sigma` 1 sigma as a share of the figure's height; `is_snapped` False where the click was kept."""

    point: Point
    sigma: float
    is_snapped: bool


def snap_marks(gray: np.ndarray, marks_px: Mapping[str, Point], click: float, pointed_px: Mapping[str, float] = NOT_SAID,
               ) -> dict[str, SnappedMark]:
    """gray uint8 (H, W); marks in continuous px of it; `click` 1 sigma of a click as a share of the figure's height.

    `pointed_px`: 1 sigma of the hand alone, for the marks of which it is known. Its doubt is widened by the line that it points at.

    Kept as clicked are marks of joints, which no line passes through, those that somebody set more exactly than a click, and all of
    a figure too small to tell lines apart.
    """
    crown, sole = point_of(marks_px, "crown"), point_of(marks_px, "sole")
    if crown is None or sole is None or crown == sole:
        return {name: SnappedMark(point, click, False) for name, point in marks_px.items()}
    axis = np.subtract(sole, crown)
    tall_px = float(np.hypot(*axis))
    down = axis / tall_px
    ways = {**dict.fromkeys(ALONG, down), **dict.fromkeys(ACROSS, np.array([-down[1], down[0]]))}
    kept = {name: SnappedMark(point, click, False) for name, point in marks_px.items()}
    for name in set(pointed_px) & set(kept):
        line_px = _line_px(gray, marks_px[name], ways.get(name, down), tall_px)
        kept[name] = SnappedMark(marks_px[name], float(np.hypot(pointed_px[name], line_px / 12**0.5)) / tall_px, False)
    if tall_px < LEAST_HEIGHT_PX:
        return kept
    moved = {name for name in ways if name in kept and (name not in pointed_px or click < kept[name].sigma < MOST_SIGMA)}
    return {name: _snap(gray, mark, ways[name], tall_px, MEANT.get(name, MEANT_ACROSS)) if name in moved else mark
            for name, mark in kept.items()}


def _line_px(gray: np.ndarray, point: Point, way: np.ndarray, tall_px: float) -> float:
    """How wide the line nearest to a mark is drawn; one pixel where none is near, or what is dark there is no line."""
    reach = max(4.0, LINE_REACH * tall_px)
    at_px = np.arange(-reach, reach + 0.25, 0.5)
    tone = _profile(gray, np.array(point), way, at_px, BAND * tall_px)
    if np.ptp(tone) < 4 * LEAST_STEP:
        return 1.0
    is_dark = tone < (tone.min() + tone.max()) / 2
    edges = np.flatnonzero(np.diff(np.concatenate([[False], is_dark, [False]]).astype(int)))
    runs = edges.reshape(-1, 2)
    start, end = runs[np.argmin(np.abs(at_px[runs[:, 0]] + at_px[runs[:, 1] - 1]))]
    wide_px = (end - start) / 2
    return float(wide_px) if start > 0 and end < len(tone) and wide_px > 1 else 1.0


def _snap(gray: np.ndarray, mark: SnappedMark, way: np.ndarray, tall_px: float, meant: float) -> SnappedMark:
    """`mark.sigma` is that of the click; `meant` how likely the line is the one meant."""
    sigma_px = mark.sigma * tall_px
    at_px = np.arange(-REACH * sigma_px, REACH * sigma_px + 0.25, 0.5)
    step = np.abs(np.gradient(_profile(gray, np.array(mark.point), way, at_px, BAND * tall_px), 0.5))
    weight = np.where(step >= LEAST_STEP, step, 0.0) * np.exp(-((at_px / sigma_px) ** 2) / 2)
    total = float(weight.sum())
    if total <= 0:
        return mark
    shift_px = float((at_px * weight).sum()) / total
    scatter_px = float(np.sqrt((((at_px - shift_px) ** 2) * weight).sum() / total))
    told_px = np.hypot(scatter_px, LEAST_SIGMA_PX)
    if told_px > WORTH * sigma_px:
        return mark
    doubt = meant * (1 - meant) * shift_px**2
    sigma = float(np.sqrt(meant * told_px**2 + (1 - meant) * sigma_px**2 + doubt)) / tall_px
    x, y = np.array(mark.point) + meant * shift_px * way
    return SnappedMark((float(x), float(y)), sigma, True)


def _profile(gray: np.ndarray, middle: np.ndarray, way: np.ndarray, at_px: np.ndarray, half_band_px: float) -> np.ndarray:
    """Tone along `way`, averaged over a narrow band; past the picture's edge its outermost pixels go on."""
    side = np.array([-way[1], way[0]])
    band_px = np.linspace(-half_band_px, half_band_px, max(3, int(2 * half_band_px) + 1))
    points = middle + at_px[:, None, None] * way + band_px[None, :, None] * side - 0.5
    return _tone_at(gray, points).mean(axis=1)


def _tone_at(gray: np.ndarray, points: np.ndarray) -> np.ndarray:
    """Bilinear, points (..., 2) with pixel centres at whole numbers."""
    height, width = gray.shape
    x, y = np.clip(points[..., 0], 0, width - 1.001), np.clip(points[..., 1], 0, height - 1.001)
    left, top = x.astype(int), y.astype(int)
    right_share, low_share = x - left, y - top
    upper = gray[top, left] * (1 - right_share) + gray[top, left + 1] * right_share
    lower = gray[top + 1, left] * (1 - right_share) + gray[top + 1, left + 1] * right_share
    return upper * (1 - low_share) + lower * low_share
