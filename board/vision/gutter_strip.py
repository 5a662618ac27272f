"""How far a line through a piece of the page runs in a gutter: paper between two straight flanks."""

from dataclasses import dataclass

import numpy as np

from board.vision.page_ground import PageGround
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
    near_side, far_side = (offset + float(np.median(side[aligned])) - reach for side in (near, far))
    chosen = rows[places[aligned]]
    repeats = any(_repeats(side, start, far[aligned] - near[aligned])
                  for side, start in ((chosen, far[aligned]), (chosen[:, ::-1], rows.shape[1] - 1 - near[aligned])))
    middles = np.round((near[aligned] + far[aligned]) / 2).astype(int)
    along = ends[0] + np.linspace(0, 1, len(rows))[:, None] * (ends[1] - ends[0])
    on_ground = on_mask(page.ground, along[places[aligned]] + (middles - reach)[:, None] * normal)
    hidden = on_mask(page.balloons, along + (np.median(middles) - reach) * normal)
    hidden[places[aligned]] = False
    seen = len(rows) - (hidden.sum() if hidden.mean() <= MOST_HIDDEN else 0)
    share, open_share = float(aligned.sum() / seen), float(on_ground.sum() / seen)
    wobble_px = max(_wobble_px(places[aligned], side[aligned]) for side in (near, far))
    bare_share = _bare_share(rows[~hidden], float(np.median(near[aligned])), float(np.median(far[aligned])))
    return GutterStrip(share, near_side, far_side, open_share, repeats, wobble_px, bare_share)


def _bare_share(rows: np.ndarray, near: float, far: float) -> float:
    """Of `rows` across a gutter, how much is paper between its flanks, but for what the flanks stray."""
    low, high = round(near) + 1, round(far) - 1
    between = rows[:, low:high] if high > low else rows[:, round((near + far - 1) / 2), None]
    return float(between.mean()) if between.size else 0.0


def _wobble_px(places: np.ndarray, values: np.ndarray) -> float:
    if len(places) < 3:
        return np.inf
    slope, start = slope_and_start(places, values)
    return float(np.std(values - slope * places - start))


def _repeats(rows: np.ndarray, flank: np.ndarray, widths: np.ndarray) -> bool:
    """Whether most rows go on, beyond the stroke that begins at column `flank`, with a run of paper about as wide again."""
    columns = np.arange(rows.shape[1])
    end = rows.shape[1]
    start = np.where(rows & (columns > flank[:, None]), columns, end).min(axis=1)
    stop = np.where(~rows & (columns > start[:, None]), columns, end).min(axis=1)
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
    points = along[:, None] + np.arange(-reach, reach + 1)[None, :, None] * normal
    return on_mask(paper, points)


def on_mask(mask: np.ndarray, points: np.ndarray) -> np.ndarray:
    """Which points (..., 2) lie on `mask` (bool (H, W)); beyond the picture counts as on it."""
    x, y = np.floor(points[..., 0]).astype(int), np.floor(points[..., 1]).astype(int)
    beyond = (x < 0) | (y < 0) | (x >= mask.shape[1]) | (y >= mask.shape[0])
    return mask[np.clip(y, 0, mask.shape[0] - 1), np.clip(x, 0, mask.shape[1] - 1)] | beyond


def _nearest_runs(rows: np.ndarray, centre: int, slack: int) -> tuple[np.ndarray, np.ndarray, np.ndarray] | None:
    """Rows with paper within `slack` of the centre, and where that run of paper begins and ends."""
    window = rows[:, centre - slack : centre + slack + 1]
    distance = np.where(window, np.abs(np.arange(-slack, slack + 1)), slack + 1)
    places = np.flatnonzero(distance.min(axis=1) <= slack)
    if len(places) == 0:
        return None
    start = distance[places].argmin(axis=1) + centre - slack
    columns = np.arange(rows.shape[1])
    chosen = rows[places]
    before = np.where(~chosen & (columns < start[:, None]), columns, -1).max(axis=1)
    after = np.where(~chosen & (columns > start[:, None]), columns, rows.shape[1]).min(axis=1)
    return places, before + 1.0, after.astype(float)


def _on_a_line(places: np.ndarray, values: np.ndarray, chosen: np.ndarray, tolerance_px: float) -> np.ndarray:
    """Which `values` lie on one straight line over `places`, judged from the `chosen` ones."""
    level = np.median(values[chosen])
    keep = chosen & (np.abs(values - level) <= 6 * tolerance_px)
    for _ in range(2):
        if keep.sum() < 5:
            return keep
        slope, start = slope_and_start(places[keep], values[keep])
        keep = chosen & (np.abs(values - slope * places - start) <= 2 * tolerance_px)
    return keep
