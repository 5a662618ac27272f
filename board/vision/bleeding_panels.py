"""Panels that bleed off three sides of the page: what is white in them at the page's edge is theirs."""

import numpy as np

from board.vision.convex_polygons import polygon_area, shared_area
from board.vision.page_piece import PieceScale

# From trials on drawn layouts, no source.
AT_EDGE = 0.01  # of the longer side
MOST_TILT = 0.03  # of the one border against the page's own axes
LEAST_DRAWN = 0.6  # of the room up to the edges that the outline already takes
MOST_TAKEN = 0.02  # of that room that others stand in


def bled_off(polygon: np.ndarray, others: list[np.ndarray], shape: tuple[int, int], scale: PieceScale) -> np.ndarray:
    """The polygon (K, 2) grown to the edges of the picture (H, W) behind its one border, where that runs from edge to edge."""
    size = np.array([shape[1], shape[0]], float)
    for a, b in zip(polygon, np.roll(polygon, -1, axis=0), strict=True):
        axis = int(abs(b[1] - a[1]) > abs(b[0] - a[0]))  # 0: the border is level, 1: it is upright
        start, end = sorted((a, b), key=lambda point: point[axis])
        tilt = abs(b[1 - axis] - a[1 - axis]) / max(abs(b[axis] - a[axis]), 1e-9)
        if start[axis] > AT_EDGE * scale.longer_px or end[axis] < size[axis] - AT_EDGE * scale.longer_px or tilt > MOST_TILT:
            continue
        far = size[1 - axis] if polygon[:, 1 - axis].mean() > (a[1 - axis] + b[1 - axis]) / 2 else 0.0
        room = np.array([start, end, end, start])
        room[:2, axis] = room[2:, axis][::-1] = 0.0, size[axis]
        room[2:, 1 - axis] = far
        area = polygon_area(room)
        taken = sum(shared_area(room, other) for other in others)
        if LEAST_DRAWN * area <= polygon_area(polygon) and taken <= MOST_TAKEN * area:
            return room
    return polygon
