"""Segments against the rays from their middles to vanishing points."""

import numpy as np


def misses_deg(segments: np.ndarray, points: np.ndarray) -> np.ndarray:
    """(N, K) degrees in [0, 90] between each segment (N, 4) and the ray from its middle to each homogeneous point (K, 3)."""
    middle = (segments[:, None, :2] + segments[:, None, 2:]) / 2
    along = segments[:, None, 2:] - segments[:, None, :2]
    ray = points[:, :2] - points[:, 2:] * middle
    cross = along[..., 0] * ray[..., 1] - along[..., 1] * ray[..., 0]
    return np.degrees(np.arctan2(np.abs(cross), np.abs((along * ray).sum(-1))))


def aimed(segment: np.ndarray, point: np.ndarray) -> np.ndarray:
    """`segment` (4,) turned about its middle so that it runs to the homogeneous `point`, and as long as before."""
    middle, along = (segment[:2] + segment[2:]) / 2, segment[2:] - segment[:2]
    ray = point[:2] - point[2] * middle
    ray = ray / np.hypot(*ray) * np.hypot(*along) / 2 * (1 if ray @ along >= 0 else -1)
    return np.concatenate([middle - ray, middle + ray])
