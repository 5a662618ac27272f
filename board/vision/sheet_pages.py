"""Which panels on a sheet of thumbnails are one page's: those that look like a page, with less room between than around."""

from collections.abc import Sequence

import numpy as np

# White around the panels of a page, as a share of what they cover across; never more than half the way to the next page.
MARGIN = 0.06
# How much worse a page's shape may be than the best before a gap is no longer taken for one between pages.
UNLIKE = 0.35


def pages_on_sheet(panels: Sequence[np.ndarray], page_ratio: float, reading: str = "ltr") -> tuple[np.ndarray, ...]:
    """Outlines of pages in reading order: each a panel that stands alone, or a box around several.

    panels: polygons (K, 2), px. page_ratio: width over height of one page; two facing ones are twice as wide.
    """
    if len(panels) < 2:
        return tuple(panels)
    boxes = np.array([[*panel.min(0), *panel.max(0)] for panel in panels])
    gaps = _gaps(boxes)
    steps = [-1.0, *np.unique(gaps[np.isfinite(gaps)])]
    groupings = [_joined(gaps, step) for step in steps]
    costs = [_unlike_pages(boxes, groups, page_ratio) for groups in groupings]
    best = groupings[int(np.argmin(costs))]
    if len(best) == 1 or min(costs) > costs[0] - 1e-9 or min(costs) > UNLIKE:
        return tuple(panels)
    around = np.array([_around(boxes[group]) for group in best])
    outlines = [panels[group[0]] if len(group) == 1 else _with_margin(i, around) for i, group in enumerate(best)]
    return tuple(outlines[i] for i in _row_by_row(around, -1 if reading == "rtl" else 1))


def _row_by_row(boxes: np.ndarray, way: int) -> list[int]:
    """Pages stand in rows; of one row are those whose middle lies beside the highest."""
    order: list[int] = []
    free = list(range(len(boxes)))
    while free:
        highest = min(free, key=lambda i: boxes[i, 1])
        row = [i for i in free if boxes[i, 1] < boxes[highest, 3] and (boxes[i, 1] + boxes[i, 3]) / 2 < boxes[highest, 3]]
        order += sorted(row, key=lambda i: way * boxes[i, 0])
        free = [i for i in free if i not in row]
    return order


def _gaps(boxes: np.ndarray) -> np.ndarray:
    """(N, N): white between two boxes that face each other, px, 0 where they meet; inf where they do not face."""
    left, top, right, bottom = (boxes[:, k] for k in range(4))
    across = np.maximum(left[:, None], left[None]) - np.minimum(right[:, None], right[None])
    down = np.maximum(top[:, None], top[None]) - np.minimum(bottom[:, None], bottom[None])
    gaps = np.where((across < 0) | (down < 0), np.maximum(np.maximum(across, down), 0.0), np.inf)
    np.fill_diagonal(gaps, np.inf)
    return gaps


def _joined(gaps: np.ndarray, step: float) -> list[list[int]]:
    """Boxes in groups: no further than `step` from one to the next."""
    groups: list[list[int]] = []
    free = set(range(len(gaps)))
    while free:
        group, waiting = [], [min(free)]
        while waiting:
            one = waiting.pop()
            if one in free:
                free.remove(one)
                group.append(one)
                waiting.extend(other for other in free if gaps[one, other] <= step)
        groups.append(sorted(group))
    return groups


def _unlike_pages(boxes: np.ndarray, groups: list[list[int]], page_ratio: float) -> float:
    """0 where all groups have the shape of a page and one size; a factor of 2 off counts 0.7."""
    around = np.array([_around(boxes[group]) for group in groups])
    width, height = (around[:, 2:] - around[:, :2]).T
    shape = np.log(width / height / page_ratio)
    off = np.minimum(np.abs(shape), np.abs(shape - np.log(2)) + 0.05)
    return float(off.mean() + np.abs(np.log(height / np.median(height))).mean())


def _around(boxes: np.ndarray) -> np.ndarray:
    return np.concatenate([boxes[:, :2].min(0), boxes[:, 2:].max(0)])


def _with_margin(i: int, around: np.ndarray) -> np.ndarray:
    gaps = _gaps(around)[i]
    margin = min(MARGIN * (around[i, 2] - around[i, 0]), gaps[np.isfinite(gaps)].min(initial=np.inf) / 2)
    left, top, right, bottom = around[i] + margin * np.array([-1, -1, 1, 1])
    return np.array([[left, top], [right, top], [right, bottom], [left, bottom]])
