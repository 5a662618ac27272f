"""How far a line through a piece of the page runs in a gutter: paper between two straight flanks."""

from dataclasses import dataclass

import numpy as np

WIDEST = 0.03  # of the longer side of the page; wider than that it is no gutter. From trials, no source.


@dataclass(frozen=True)
class GutterStrip:
    """`share` of the line's way that has both flanks; `middle` is the offset of the line halfway between them."""

    share: float
    middle: float


NO_STRIP = GutterStrip(0.0, 0.0)


def measure_strip(paper: np.ndarray, ends: tuple[np.ndarray, np.ndarray], normal: np.ndarray, offset: float, longer_px: float,
                  tolerance_px: float) -> GutterStrip:
    """The gutter at or just beyond the line normal . p = offset, between two points of that line.

    paper: bool (H, W). ends: two points (2,). Everything in px of that picture.
    """
    slack = round(2 * tolerance_px) + 2
    reach = round(WIDEST * longer_px) + 2 * slack  # so that a run as wide as a gutter may be ends before the window does
    rows = _profiles(paper, ends, normal, reach)
    run = _nearest_runs(rows, reach, slack)
    if run is None or len(run[0]) < 0.3 * len(rows):
        return NO_STRIP
    places, near, far = run
    narrow = far - near <= WIDEST * longer_px
    if narrow.sum() < 0.3 * len(rows):
        return NO_STRIP
    aligned = narrow & _on_a_line(places, near, narrow, tolerance_px) & _on_a_line(places, far, narrow, tolerance_px)
    if not aligned.any():
        return NO_STRIP
    middle = float(np.median((near[aligned] + far[aligned]) / 2)) - reach
    return GutterStrip(float(aligned.sum()) / len(rows), offset + middle)


def _profiles(paper: np.ndarray, ends: tuple[np.ndarray, np.ndarray], normal: np.ndarray, reach: int) -> np.ndarray:
    """`paper` across the line, one row a pixel along it; columns run from `reach` inside to `reach` outside of it."""
    count = max(2, round(float(np.hypot(*(ends[1] - ends[0])))))
    along = ends[0] + np.linspace(0, 1, count)[:, None] * (ends[1] - ends[0])
    points = along[:, None] + np.arange(-reach, reach + 1)[None, :, None] * normal
    x, y = np.floor(points[..., 0]).astype(int), np.floor(points[..., 1]).astype(int)
    beyond = (x < 0) | (y < 0) | (x >= paper.shape[1]) | (y >= paper.shape[0])
    return paper[np.clip(y, 0, paper.shape[0] - 1), np.clip(x, 0, paper.shape[1] - 1)] | beyond


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
        slope, start = np.polyfit(places[keep], values[keep], 1)
        keep = chosen & (np.abs(values - slope * places - start) <= 2 * tolerance_px)
    return keep
