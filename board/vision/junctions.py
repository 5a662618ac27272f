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
    # x and y by themselves: sums over pairs of numbers are slow.
    (x, y), (start_x, start_y) = points.T[..., None], segments[:, :2].T
    along_x, along_y = (segments[:, 2:] - segments[:, :2]).T
    off_x, off_y = x - start_x, y - start_y
    share = np.clip((off_x * along_x + off_y * along_y) / np.maximum(along_x**2 + along_y**2, 1e-12), 0, 1)
    return np.hypot(off_x - share * along_x, off_y - share * along_y)
