"""The line segments of one picture, in the units that the solver works in.

Picture units: origin at the picture's centre, x right, y down, the longer side 1 unit long. Angles do not change.
"""

from dataclasses import dataclass

import numpy as np

from board.vision.hatching import hatching_weights
from board.vision.segment_weights import independent_weights

# Below this a segment says next to nothing about its direction.
SHORTEST_PX = 4.0
INDEPENDENCE = 0.5


@dataclass(frozen=True)
class SegmentBundle:
    """N segments as middles (N, 2), unit normals (N, 2), half lengths (N,), lines (N, 3) with line · point = 0; picture units.

    `weight` (N,) how much each says on its own, 0..1. `index` (N,) names each segment's row in the array it came from;
    `half_length_px` is in pixels of the picture.
    """

    middle: np.ndarray
    normal: np.ndarray
    line: np.ndarray
    half_length_px: np.ndarray
    weight: np.ndarray
    index: np.ndarray
    unit_px: float
    centre_px: np.ndarray

    def __len__(self) -> int:
        return len(self.index)

    @property
    def is_given(self) -> np.ndarray:
        """(N,) true for what a person gave and nobody drew: such rows have no place in the array of segments."""
        return self.index < 0

    @property
    def testimony(self) -> np.ndarray:
        """(N,) the weight of each in a likelihood: segments of one stroke or one object are not independent witnesses."""
        return INDEPENDENCE * self.weight

    @property
    def moments(self) -> np.ndarray:
        """(4, N): 1, x, y, x² + y² of each middle, so that a squared distance to a homogeneous point is one product."""
        return np.stack([np.ones(len(self)), self.middle[:, 0], self.middle[:, 1], (self.middle**2).sum(1)])

    @property
    def H_picture_to_px(self) -> np.ndarray:
        unit, (x, y) = self.unit_px, self.centre_px
        return np.array([[unit, 0, x], [0, unit, y], [0, 0, 1.0]])

    def most_telling(self, count: int) -> "SegmentBundle":
        """The `count` longest, each by how much it says on its own, in their order here."""
        if len(self) <= count:
            return self
        return self.subset(np.sort(np.argsort(-self.half_length_px * self.weight - 1e9 * self.is_given, kind="stable")[:count]))

    def subset(self, rows: np.ndarray) -> "SegmentBundle":
        return SegmentBundle(self.middle[rows], self.normal[rows], self.line[rows], self.half_length_px[rows], self.weight[rows],
                             self.index[rows],
                             self.unit_px, self.centre_px)


def bundle_segments(segments: np.ndarray, image_size: tuple[float, float]) -> SegmentBundle:
    """`segments` (N, 4) x1 y1 x2 y2 in px; those that are not finite or shorter than SHORTEST_PX are left out."""
    segments = np.asarray(segments, float).reshape(-1, 4)
    length_px = np.hypot(segments[:, 2] - segments[:, 0], segments[:, 3] - segments[:, 1])
    keep = np.flatnonzero(np.isfinite(segments).all(1) & (length_px >= SHORTEST_PX))
    segments, length_px = segments[keep], length_px[keep]
    unit_px, centre_px = float(max(image_size)), np.asarray(image_size, float) / 2
    middle = ((segments[:, :2] + segments[:, 2:]) / 2 - centre_px) / unit_px
    direction = (segments[:, 2:] - segments[:, :2]) / length_px[:, None]
    normal = np.stack([-direction[:, 1], direction[:, 0]], axis=1)
    line = np.column_stack([normal, -(normal * middle).sum(1)])
    weight = independent_weights(segments) * hatching_weights(segments, float(np.hypot(*image_size)))
    return SegmentBundle(middle, normal, line, length_px / 2, weight, keep, unit_px, centre_px)
