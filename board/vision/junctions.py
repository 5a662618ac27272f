"""Which segments meet: corners and tees of drawn objects."""

import numpy as np


def end_distances(segments: np.ndarray) -> np.ndarray:
    """(N, 2, N) px: [i, e, j] from end e of segment i to the nearest point of segment j; infinite to itself. `segments` (N, 4)."""
    distance = point_distances(segments.reshape(-1, 2), segments).reshape(len(segments), 2, len(segments))
    rows = np.arange(len(segments))
    distance[rows, :, rows] = np.inf
    return distance


def point_distances(points: np.ndarray, segments: np.ndarray) -> np.ndarray:
    """(P, N) px from each point (P, 2) to the nearest point of each segment (N, 4)."""
    start, along = segments[:, :2], segments[:, 2:] - segments[:, :2]
    offset = points[:, None] - start
    share = np.clip((offset * along).sum(-1) / np.maximum((along**2).sum(-1), 1e-12), 0, 1)
    gap = offset - share[..., None] * along
    return np.hypot(gap[..., 0], gap[..., 1])
