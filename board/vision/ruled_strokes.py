"""A straight stroke along a line: how much of the line it covers, how straight, dark and thick it is."""

from dataclasses import dataclass

import numpy as np

from board.vision.short_arrays import limit_of_share, median_of, medians_of_rows, spread_of, values_at
from board.vision.straight_fit import slope_and_start

LEAST_PLACES = 10
LEAST_DEPTH = 12  # grey values that a stroke is darker than what lies on both sides of it


@dataclass(frozen=True)
class RuledStroke:
    """`share` of what is seen of a line that a stroke covers, 0..1; how far it strays from straight (rms), its grey value and
    width; `hidden`, the share of the line that something lies over."""

    share: float
    wobble_px: float
    value: float
    width_px: float
    hidden: float = 0.0


NOTHING_RULED = RuledStroke(0.0, np.inf, 255.0, 0.0)


def measure_stroke(
    gray: np.ndarray, ends: np.ndarray, search_px: int, flank_px: int, hidden: np.ndarray | None = None, least_share: float = 0.0
) -> RuledStroke:
    """The stroke within `search_px` of the line between two points.

    gray: uint8 (H, W). ends: (2, 2) continuous px. flank_px: how far on either side the stroke has surely ended. hidden: bool
    (H, W), where something lies over the drawing. What surely covers less than `least_share` of the line is no stroke.
    """
    count = max(2, round(float(np.hypot(*(ends[1] - ends[0])))))
    reach = search_px + flank_px
    row, column = _across(gray.shape, ends, count, reach)
    rows = values_at(gray, row, column).astype(np.int16)
    window = rows[:, flank_px : flank_px + 2 * search_px + 1]
    level = window.min(axis=1)
    over = np.zeros(count, bool) if hidden is None else values_at(hidden, row[:, reach], column[:, reach])
    if _most_covered(rows.max(axis=1) - level >= LEAST_DEPTH, over) < least_share:  # most lines that are asked about lie on paper
        return NOTHING_RULED
    darkest = window <= level[:, None] + LEAST_DEPTH
    place = (darkest @ np.arange(window.shape[1])) / np.count_nonzero(darkest, axis=1)
    index = np.arange(count)
    middle = np.round(place).astype(int) + flank_px
    asides = np.arange(flank_px // 2, flank_px + 1)
    near, far = (medians_of_rows(values_at(rows, index[:, None], middle[:, None] + side * asides)) for side in (-1, 1))
    beside = np.minimum(near, far)
    is_there = beside - level >= LEAST_DEPTH
    is_dark_beside = np.maximum(near, far) - level >= LEAST_DEPTH
    if is_there.sum() < LEAST_PLACES or _most_covered(is_dark_beside, over) < least_share:
        return NOTHING_RULED
    own = is_there & ~over if (is_there & ~over).sum() >= LEAST_PLACES else is_there  # the rim of a balloon is as dark as a stroke
    slope, start = slope_and_start(index[own], place[own])
    fitted = start + slope * index
    residual = _nearest(darkest, fitted) - fitted
    on_it = is_there & (np.abs(residual) <= search_px)
    own = own & on_it if (own & on_it).any() else on_it
    across = values_at(rows, index[:, None], middle[:, None] + np.arange(-(flank_px // 2), flank_px // 2 + 1))
    width = np.count_nonzero(across < ((level + beside) / 2)[:, None], axis=1)[own]
    width = width[width <= 2 * median_of(width)]  # a wider one is a line that joins the stroke
    value = median_of(level[own])
    is_dark_beside &= (np.abs(level - value) <= LEAST_DEPTH) & (_distance(darkest, fitted) <= 1.0)
    seen = on_it | is_dark_beside
    covered = over & ~seen
    share = float(seen.sum() / (count - covered.sum()))
    return RuledStroke(share, _spread_px(residual[own]), value, float(width.mean()), float(covered.mean()))


def _most_covered(dark: np.ndarray, over: np.ndarray) -> float:
    """Of a line that is `dark` (N,) at some places, with something lying `over` (N,) others: the share that a stroke may cover."""
    return float(dark.sum() / max(1, len(dark) - (over & ~dark).sum()))


def _distance(darkest: np.ndarray, fitted: np.ndarray) -> np.ndarray:
    """How far (N,) the dark of each place lies from where the stroke runs: with a tone as dark as it beside it, the two are one."""
    return np.where(darkest, np.abs(np.arange(darkest.shape[1]) - fitted[:, None]), np.inf).min(axis=1)


def _nearest(darkest: np.ndarray, fitted: np.ndarray) -> np.ndarray:
    """The places (N,) of a stroke, now that it is known about where it runs: a line of the drawing may run close beside it."""
    columns = np.arange(darkest.shape[1])
    nearest = np.where(darkest, np.abs(columns - fitted[:, None]), np.inf).argmin(axis=1)
    runs = np.cumsum(~darkest, axis=1)
    run = darkest & (runs == values_at(runs, np.arange(len(runs)), nearest)[:, None])
    return (run @ columns) / np.count_nonzero(run, axis=1)


def _spread_px(residual: np.ndarray) -> float:
    """The standard deviation but for the stray tenth: what crosses a stroke, or lies over it, pulls it aside."""
    if not len(residual):
        return np.inf
    near = np.abs(residual - median_of(residual))
    return spread_of(residual[near <= limit_of_share(near, 0.9)])


def _across(shape: tuple[int, ...], ends: np.ndarray, count: int, reach: int) -> tuple[np.ndarray, np.ndarray]:
    """Rows and columns (count, 2 reach + 1) of what lies across a line; on a picture of that shape the nearest ones."""
    along = ends[1] - ends[0]
    normal = np.array([-along[1], along[0]]) / max(float(np.hypot(*along)), 1e-9)
    points, steps = ends[0] + np.linspace(0, 1, count)[:, None] * along, np.arange(-reach, reach + 1)
    row, column = (np.floor(points[:, k, None] + steps * normal[k]).clip(0, shape[1 - k] - 1).astype(np.intp) for k in (1, 0))
    return row, column
