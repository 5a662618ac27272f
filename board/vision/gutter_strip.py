"""How far a line through a piece of the page runs in a gutter: paper between two straight flanks."""

from dataclasses import dataclass

import numpy as np

from board.vision.page_ground import PageGround
from board.vision.short_arrays import median_of, spread_of, values_at
from board.vision.straight_fit import slope_and_start

WIDEST = 0.03  # of the longer side of the page; wider than that it is no gutter.
EVEN = 0.06  # a slant up to this is the wobble of the hand
MOST_HIDDEN = 0.4  # of a gutter, by balloons. From trials, as the above, no source.
NARROWEST_PX = 2.5  # the grain of a tone that is near the ground's value gives runs as short as this


@dataclass(frozen=True)
class GutterStrip:
    """`share` of the line's way that has both flanks; `near` and `far` are the offsets of the lines along them.

    `open_share` is how much of the way is ground; both are shares of what no balloon hides. `repeats` where the next run of paper
    on one side is about as wide: boards, bars or stairs and no gutter. `bare_share` is how much of what lies between the flanks is
    paper, from end to end: nothing is drawn across a gutter.
    """

    share: float
    near: float
    far: float
    open_share: float
    repeats: bool
    wobble_px: float  # how far the wavier flank strays from a straight line, root mean square
    bare_share: float = 0.0


NO_STRIP = GutterStrip(0.0, 0.0, 0.0, 0.0, False, np.inf)


def measure_strip(page: PageGround, ends: tuple[np.ndarray, np.ndarray], normal: np.ndarray, offset: float, longer_px: float,
                  tolerance_px: float) -> GutterStrip:
    """The gutter at or just beyond the line normal . p = offset, between two points of that line.

    ends: two points (2,). Everything in px of that picture.
    """
    slack = round(2 * tolerance_px) + 2
    reach = 2 * round(WIDEST * longer_px) + 2 * slack  # room for the next run beside the gutter
    rows = _profiles(page.paper, ends, normal, reach)
    run = _nearest_runs(rows, reach, slack)
    if run is None or len(run[0]) < 0.3 * len(rows):
        return NO_STRIP
    places, near, far = run
    narrow = (far - near <= WIDEST * longer_px) & (far - near > NARROWEST_PX)
    if narrow.sum() < 0.3 * len(rows):
        return NO_STRIP
    aligned = narrow & _on_a_line(places, near, narrow, tolerance_px) & _on_a_line(places, far, narrow, tolerance_px)
    if not aligned.any():
        return NO_STRIP
    near_at, far_at = median_of(near[aligned]), median_of(far[aligned])
    chosen = rows[places[aligned]]
    repeats = any(_repeats(side, start, far[aligned] - near[aligned])
                  for side, start in ((chosen, far[aligned]), (chosen[:, ::-1], rows.shape[1] - 1 - near[aligned])))
    middles = np.round((near[aligned] + far[aligned]) / 2).astype(int)
    along = ends[0] + np.linspace(0, 1, len(rows))[:, None] * (ends[1] - ends[0])
    on_ground = on_mask(page.ground, along.take(places[aligned], axis=0) + (middles - reach)[:, None] * normal)
    hidden = on_mask(page.balloons, along + (median_of(middles) - reach) * normal)
    hidden[places[aligned]] = False
    seen = len(rows) - (hidden.sum() if hidden.mean() <= MOST_HIDDEN else 0)
    share, open_share = float(aligned.sum() / seen), float(on_ground.sum() / seen)
    wobble_px = max(_wobble_px(places[aligned], side[aligned]) for side in (near, far))
    bare_share = _bare_share(rows[~hidden], near_at, far_at)
    return GutterStrip(share, offset + near_at - reach, offset + far_at - reach, open_share, repeats, wobble_px, bare_share)


def _bare_share(rows: np.ndarray, near: float, far: float) -> float:
    """Of `rows` across a gutter, how much is paper between its flanks, but for what the flanks stray."""
    low, high = round(near) + 1, round(far) - 1
    between = rows[:, low:high] if high > low else rows[:, round((near + far - 1) / 2), None]
    return float(between.mean()) if between.size else 0.0


def _wobble_px(places: np.ndarray, values: np.ndarray) -> float:
    if len(places) < 3:
        return np.inf
    slope, start = slope_and_start(places, values)
    return spread_of(values - slope * places - start)


def _repeats(rows: np.ndarray, flank: np.ndarray, widths: np.ndarray) -> bool:
    """Whether most rows go on, beyond the stroke that begins at column `flank`, with a run of paper about as wide again."""
    columns, end = np.arange(rows.shape[1]), rows.shape[1]
    start = _first(rows & (columns > flank[:, None]), end)
    stop = _first(~rows & (columns > start[:, None]), end)
    next_widths = (stop - start) / np.maximum(widths, 1)
    return bool(np.mean((stop < end) & (next_widths > 0.6) & (next_widths < 1.6)) > 0.4)


def count_crossed_ends(mask: np.ndarray, normal: np.ndarray, flanks: tuple[float, float], least_px: float,
                       most_slant: float) -> int:
    """At how many of the four ends of two flanks the stroke sticks out of the sides of `mask` (bool (H, W)) by `least_px` or more.

    Where loose borders cross, their strokes run on past each other; the lines of a drawing end at the border. A side that slants
    by more than `most_slant` against square is left out: what sticks out of it does not show well.
    """
    near, far = min(flanks), max(flanks)
    reach = 3 * least_px
    rows, columns = _nonzero_within(mask, normal, near - 8 * reach, far + 8 * reach)
    across = columns * normal[0] + rows * normal[1]
    along = -columns * normal[1] + rows * normal[0]
    beside = ((across > near - 8 * reach) & (across < near - reach)) | ((across > far + reach) & (across < far + 8 * reach))
    if not beside.any():
        return 0
    bins = np.round(across[beside]).astype(int)
    count = 0
    for way in (along, -along):
        places, ends = _largest_of_each(bins, way[beside])
        if len(places) < 5:
            continue
        slope, start = _without_strays(places, ends)
        if abs(slope) > most_slant:
            continue
        if abs(slope) < EVEN:
            slope, start = 0.0, float(np.median(ends))
        for flank in (near, far):
            on_it = np.abs(across - flank) <= reach
            count += bool(on_it.any()) and bool((way[on_it] - slope * across[on_it] - start).max() >= least_px)
    return int(count)


def _without_strays(places: np.ndarray, ends: np.ndarray) -> tuple[float, float]:
    """Slope and start of a side, without the strokes that stick out of it further off and would tilt it."""
    slope, start = slope_and_start(places, ends)
    for _ in range(2):
        off = np.abs(ends - slope * places - start)
        near = off <= max(1.0, 2 * float(np.median(off)))
        if near.sum() >= 5:
            slope, start = slope_and_start(places[near], ends[near])
    return slope, start


def _nonzero_within(mask: np.ndarray, normal: np.ndarray, low: float, high: float) -> tuple[np.ndarray, np.ndarray]:
    """Rows and columns of the pixels of `mask` in the upright or level strip that holds the band low <= p . normal <= high."""
    axis = int(abs(normal[0]) >= abs(normal[1]))  # 1: the band runs down the picture, and its columns are cut out
    beside = np.array([0, mask.shape[1 - axis] - 1]) * normal[axis]
    reached = ((np.array([[low], [high]]) - beside) / normal[1 - axis]).round()
    first, last = (int(np.clip(at, 0, mask.shape[axis])) for at in (reached.min() - 1, reached.max() + 2))
    found = np.nonzero(mask[:, first:last] if axis else mask[first:last])
    return (found[0], found[1] + first) if axis else (found[0] + first, found[1])


def _largest_of_each(bins: np.ndarray, values: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """The bins that occur, and the largest value in each."""
    largest = np.full(bins.max() - bins.min() + 1, -np.inf)
    np.maximum.at(largest, bins - bins.min(), values)
    found = np.flatnonzero(np.isfinite(largest))
    return found + bins.min(), largest[found]


def _profiles(paper: np.ndarray, ends: tuple[np.ndarray, np.ndarray], normal: np.ndarray, reach: int) -> np.ndarray:
    """`paper` across the line, one row for every two pixels along it; columns run from `reach` inside to `reach` outside of it."""
    count = max(2, round(float(np.hypot(*(ends[1] - ends[0]))) / 2))
    along = ends[0] + np.linspace(0, 1, count)[:, None] * (ends[1] - ends[0])
    steps = np.arange(-reach, reach + 1)
    return _on_mask(paper, along[:, 0, None] + steps * normal[0], along[:, 1, None] + steps * normal[1])


def on_mask(mask: np.ndarray, points: np.ndarray) -> np.ndarray:
    """Which points (..., 2) lie on `mask` (bool (H, W)); beyond the picture counts as on it."""
    return _on_mask(mask, points[..., 0], points[..., 1])


def _on_mask(mask: np.ndarray, x: np.ndarray, y: np.ndarray) -> np.ndarray:
    height, width = mask.shape
    column, row = np.floor(x), np.floor(y)
    inner_column, inner_row = column.clip(0, width - 1), row.clip(0, height - 1)
    on = values_at(mask, inner_row.astype(np.intp), inner_column.astype(np.intp))
    return on | (inner_column != column) | (inner_row != row)


def _nearest_runs(rows: np.ndarray, centre: int, slack: int) -> tuple[np.ndarray, np.ndarray, np.ndarray] | None:
    """Rows with paper within `slack` of the centre, and where that run of paper begins and ends."""
    window = rows[:, centre - slack : centre + slack + 1]
    distance = np.where(window, np.abs(np.arange(-slack, slack + 1)), slack + 1)
    places = np.flatnonzero(distance.min(axis=1) <= slack)
    if len(places) == 0:
        return None
    start = distance[places].argmin(axis=1) + centre - slack
    columns, end = np.arange(rows.shape[1]), rows.shape[1]
    drawn = ~rows[places]
    before = end - 1 - _first((drawn & (columns < start[:, None]))[:, ::-1], end)
    after = _first(drawn & (columns > start[:, None]), end)
    return places, before + 1.0, after.astype(float)


def _first(flags: np.ndarray, otherwise: int) -> np.ndarray:
    """The first column (N,) of each row of `flags` (bool (N, M)) that is True; `otherwise` where none is."""
    first = flags.argmax(axis=1)
    return np.where(values_at(flags, np.arange(len(flags)), first), first, otherwise)


def _on_a_line(places: np.ndarray, values: np.ndarray, chosen: np.ndarray, tolerance_px: float) -> np.ndarray:
    """Which `values` lie on one straight line over `places`, judged from the `chosen` ones."""
    level = median_of(values[chosen])
    keep = chosen & (np.abs(values - level) <= 6 * tolerance_px)
    for _ in range(2):
        if keep.sum() < 5:
            return keep
        slope, start = slope_and_start(places[keep], values[keep])
        keep = chosen & (np.abs(values - slope * places - start) <= 2 * tolerance_px)
    return keep
