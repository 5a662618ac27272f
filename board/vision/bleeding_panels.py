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
    """The polygon grown to the edges of the picture behind its one border, where that runs from edge to edge; else itself.

    polygon, others: (K, 2) in px of the picture, whose shape is (H, W).
    """
    size = np.array([shape[1], shape[0]], float)
    for a, b in zip(polygon, np.roll(polygon, -1, axis=0), strict=True):
        axis = int(abs(b[1] - a[1]) > abs(b[0] - a[0]))  # 0: the border is level, 1: it is upright
        start, end = sorted((a, b), key=lambda point: point[axis])
        tilt = abs(b[1 - axis] - a[1 - axis]) / max(abs(b[axis] - a[axis]), 1e-9)
        if start[axis] > AT_EDGE * scale.longer_px or end[axis] < size[axis] - AT_EDGE * scale.longer_px or tilt > MOST_TILT:
            continue
        far = size[1 - axis] if polygon[:, 1 - axis].mean() > (a[1 - axis] + b[1 - axis]) / 2 else 0.0
        room = np.empty((4, 2))
        room[:, axis] = 0.0, size[axis], size[axis], 0.0
        room[:, 1 - axis] = start[1 - axis], end[1 - axis], far, far
        area = polygon_area(room)
        taken = sum(shared_area(room, other) for other in others)
        if LEAST_DRAWN * area <= polygon_area(polygon) and taken <= MOST_TAKEN * area:
            return room
    return polygon
