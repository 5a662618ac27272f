"""What a person says of the perspective of a picture, which the solve then takes as so."""

from dataclasses import dataclass, replace

import numpy as np

from board.vision.segment_bundle import SegmentBundle

RAYS_OF_A_GIVEN_POINT = 16
WEIGHT_OF_A_RAY = 2.0  # a given point outweighs what the lines say
RING = 0.3  # picture units: the rays stand around the picture's centre


@dataclass(frozen=True)
class GivenPerspective:
    """Px of the picture: `horizon` (a, b, c); `points` (3,) homogeneous or (2,); `parallel_edges` pairs of segments (2, 4)."""

    horizon: np.ndarray | None = None
    points: tuple[np.ndarray, ...] = ()
    parallel_edges: tuple[np.ndarray, ...] = ()

    @property
    def all_points(self) -> np.ndarray:
        """(G, 3) the points, and where each pair of parallel edges meets; unit length."""
        given = [np.append(p, 1.0) if len(p) == 2 else np.asarray(p, float) for p in map(np.ravel, self.points)]
        given += [_meeting_point(*np.asarray(pair, float)) for pair in self.parallel_edges]
        points = np.array(given, float).reshape(-1, 3)
        return points / np.linalg.norm(points, axis=1, keepdims=True)

    def horizon_in(self, bundle: SegmentBundle) -> np.ndarray | None:
        """(3,) the horizon in picture units, its normal pointing down."""
        if self.horizon is None:
            return None
        line = bundle.H_picture_to_px.T @ np.asarray(self.horizon, float)
        return line / np.hypot(*line[:2]) * (1 if line[1] >= 0 else -1)


def with_given_rays(bundle: SegmentBundle, given: GivenPerspective) -> SegmentBundle:
    """`bundle` with exact rays to each given point added; their `index` is -1."""
    points = given.all_points @ np.linalg.inv(bundle.H_picture_to_px).T
    if not len(points):
        return bundle
    turn = np.arange(RAYS_OF_A_GIVEN_POINT) * (2 * np.pi / RAYS_OF_A_GIVEN_POINT) + 0.1
    middle = np.tile(RING * np.stack([np.cos(turn), np.sin(turn)], axis=1), (len(points), 1))
    points = np.repeat(points, RAYS_OF_A_GIVEN_POINT, axis=0)
    ray = points[:, :2] - points[:, 2:] * middle
    normal = np.stack([-ray[:, 1], ray[:, 0]], axis=1) / np.maximum(np.hypot(*ray.T), 1e-12)[:, None]
    count = len(middle)
    return replace(
        bundle,
        middle=np.concatenate([bundle.middle, middle]),
        normal=np.concatenate([bundle.normal, normal]),
        line=np.concatenate([bundle.line, np.column_stack([normal, -(normal * middle).sum(1)])]),
        half_length_px=np.concatenate([bundle.half_length_px, np.full(count, bundle.unit_px)]),
        weight=np.concatenate([bundle.weight, np.full(count, WEIGHT_OF_A_RAY)]),
        index=np.concatenate([bundle.index, np.full(count, -1)]),
    )


def _meeting_point(first: np.ndarray, second: np.ndarray) -> np.ndarray:
    lines = [np.cross([*edge[:2], 1.0], [*edge[2:], 1.0]) for edge in (first, second)]
    point = np.cross(lines[0] / np.linalg.norm(lines[0][:2]), lines[1] / np.linalg.norm(lines[1][:2]))
    if not np.linalg.norm(point):
        raise ValueError("Two edges on one line meet in no one point.")
    return point
