"""Panels that bleed off three sides of the page: what is white in them at the page's edge is theirs."""

import numpy as np

from board.vision.convex_polygons import polygon_area, shared_area
from board.vision.page_piece import PieceScale

# From trials on drawn layouts, no source.
AT_EDGE = 0.01  # of the longer side
MOST_TILT = 0.03  # of the one border against the page's own axes
LEAST_SIDE = 0.7  # of the way from edge to edge that a side of the outline takes
STRAYS = 0.005  # of the longer side: so far from that side its border may run on to the edges
LEAST_DRAWN = 0.6  # of the room up to the edges that the outline already takes
MOST_TAKEN = 0.02  # of that room that others stand in


def bled_off(polygon: np.ndarray, others: list[np.ndarray], content: np.ndarray, scale: PieceScale) -> np.ndarray:
    """The polygon grown to the edges of the picture behind its one border, where that runs from edge to edge; else itself.

    polygon, others: (K, 2) in px of the picture; content: bool (H, W), what is drawn on it.
    """
    size = np.array(content.shape[::-1], float)
    for a, b in zip(polygon, np.roll(polygon, -1, axis=0), strict=True):
        axis = int(abs(b[1] - a[1]) > abs(b[0] - a[0]))  # 0: the border is level, 1: it is upright
        start, end = sorted((a, b), key=lambda point: point[axis])
        slope = (end[1 - axis] - start[1 - axis]) / max(end[axis] - start[axis], 1e-9)
        ends = start[1 - axis] + slope * (np.array([0.0, size[axis]]) - start[axis])
        if abs(slope) > MOST_TILT or not _reaches_edges(start[axis], end[axis], ends, content, axis, scale):
            continue
        far = size[1 - axis] if polygon[:, 1 - axis].mean() > ends.mean() else 0.0
        room = np.empty((4, 2))
        room[:, axis] = 0.0, size[axis], size[axis], 0.0
        room[:, 1 - axis] = *ends, far, far
        area = polygon_area(room)
        taken = sum(shared_area(room, other) for other in others)
        if LEAST_DRAWN * area <= polygon_area(polygon) and taken <= MOST_TAKEN * area:
            return room
    return polygon


def _reaches_edges(start: float, end: float, ends: np.ndarray, content: np.ndarray, axis: int, scale: PieceScale) -> bool:
    """Whether a border, of a side of the outline from `start` to `end`, runs on to both edges, which it meets at `ends` (2,): where
    all is white behind it, the stroke alone goes on."""
    size, near = content.shape[1 - axis], AT_EDGE * scale.longer_px
    if end - start < LEAST_SIDE * size:
        return False
    at = np.arange(size)
    at = at[(at < start - near) | (at > end + near)]
    place = np.round(ends[0] + (ends[1] - ends[0]) * at / size).astype(int)
    reach = np.arange(-round(STRAYS * scale.longer_px), round(STRAYS * scale.longer_px) + 1)[:, None]
    across = np.clip(place + reach, 0, content.shape[axis] - 1)
    there = (content[across, at] if axis == 0 else content[at, across]).any(axis=0)
    return bool(there.all())
