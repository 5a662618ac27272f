"""What a person set by hand, from points in the picture to what the solve takes as given."""

from collections.abc import Sequence

import numpy as np

from board.vision.given_perspective import GivenPerspective


def given_from_points(eye_level: np.ndarray | None, points: np.ndarray, parallel_edges: Sequence[np.ndarray]) -> GivenPerspective:
    """`eye_level` (2, 2) or None, two points on it; `points` (K, 2); `parallel_edges` none, or two of (2, 2). All in px."""
    horizon = None if eye_level is None else np.cross([*eye_level[0], 1.0], [*eye_level[1], 1.0])
    pairs = (np.reshape(np.asarray(parallel_edges, float), (2, 4)),) if len(parallel_edges) else ()
    return GivenPerspective(horizon, tuple(np.reshape(points, (-1, 2))), pairs)
