"""Slopes: lines that rise over a level direction, as roofs in a row do. They run to a point above or below that direction's own.

All lines that lie in upright walls along one level direction run to points on the line through its point and the uprights', the
walls' vanishing line. Source: Hartley and Zisserman, Multiple View Geometry, chapter 8, from memory; the limits are from trials on
drawn streets, no source.
"""

from collections.abc import Sequence

import numpy as np

from board.vision.junctions import end_distances
from board.vision.perspective import VanishingPoint
from board.vision.segment_rays import misses_deg

NEAR_SHARE = 0.12  # of the picture's diagonal: to the next roof
TURN_DEG, MISS_DEG = 15.0, 1.5  # between two slopes, and by which one misses the other's point
LEAST_LENGTH = 0.4  # of the other's


def are_slopes(segments: np.ndarray, points: Sequence[VanishingPoint], diagonal_px: float) -> np.ndarray:
    """(N,) which of segments (N, 4) px that run to none of the `points` have another near by that rises to the same point.

    One that does so alone may as well be an edge that is off.
    """
    upright = next((p.point for p in points if p.role == "upright"), None)
    if upright is None or len(segments) < 2:
        return np.zeros(len(segments), bool)
    length = np.hypot(*(segments[:, 2:] - segments[:, :2]).T)
    along = (segments[:, 2:] - segments[:, :2]) / length[:, None]
    turn = np.abs(along[:, None, 0] * along[:, 1] - along[:, None, 1] * along[:, 0])
    near = end_distances(segments).min(1) <= NEAR_SHARE * diagonal_px
    is_fellow = (near | near.T) & (turn <= np.sin(np.radians(TURN_DEG))) & (length >= LEAST_LENGTH * length[:, None])
    ends = np.concatenate([segments.reshape(-1, 2, 2), np.ones((len(segments), 2, 1))], axis=2)
    lines, found = np.cross(ends[:, 0], ends[:, 1]), np.zeros(len(segments), bool)
    for level in (p.point for p in points if p.role == "level"):
        rises_to = np.cross(lines, np.cross(level, upright))
        rises_to /= np.linalg.norm(rises_to, axis=1, keepdims=True)
        found |= (is_fellow & (misses_deg(segments, rises_to).T <= MISS_DEG)).any(1)
    return found
