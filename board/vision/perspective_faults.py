"""What in a drawing contradicts its own perspective: edges that miss their vanishing point, objects with another eye level."""

from dataclasses import dataclass

import numpy as np

from board.not_measured import NotMeasured
from board.vision.junctions import end_distances
from board.vision.perspective import Perspective, VanishingPoint, solve_perspective

FARTHEST_STRAY_DEG = 14.0  # a line further off was not meant for that point
FEWEST_SUPPORT = 5  # members that a point needs before a line can be said to miss it
LEAST_CONFIDENCE = 0.8
TOUCH_SHARE = 0.015  # of the picture's diagonal
LONGEST_UNJUDGED_SHARE = 0.06  # of the diagonal: shorter lines are not judged
MOST_ROLL_BETWEEN_DEG = 4.0


@dataclass(frozen=True)
class StrayEdge:
    """Row `segment` misses `point` by `miss_deg`; `true_edge` (4,) px is that line turned about its middle to meet the point."""

    segment: int
    point: VanishingPoint
    miss_deg: float
    true_edge: np.ndarray
    confidence: float


@dataclass(frozen=True)
class SplitEyeLevel:
    """`members` rows agree on `other_horizon` (a, b, c), which lies `apart_px` from the main one (+ below it)."""

    members: np.ndarray
    other_horizon: np.ndarray
    apart_px: float
    interval_px: float
    confidence: float


def misses_deg(segments: np.ndarray, points: np.ndarray) -> np.ndarray:
    """(N, K) degrees in [0, 90] between each segment (N, 4) and the ray from its middle to each homogeneous point (K, 3)."""
    middle = (segments[:, None, :2] + segments[:, None, 2:]) / 2
    along = segments[:, None, 2:] - segments[:, None, :2]
    ray = points[:, :2] - points[:, 2:] * middle
    cross = along[..., 0] * ray[..., 1] - along[..., 1] * ray[..., 0]
    return np.degrees(np.arctan2(np.abs(cross), np.abs((along * ray).sum(-1))))


def find_stray_edges(segments: np.ndarray, perspective: Perspective, image_size: tuple[float, float],
                     tolerance_deg: float) -> tuple[StrayEdge, ...]:
    """Level edges of right-angled objects that miss their point by more than `tolerance_deg`.

    A level edge of a turned object meets the eye level in a point of its own and is no fault. So an edge counts as stray only where
    both its ends meet edges that do run to the solved points, one of them of another level direction: the object is not turned.
    """
    points = [p for p in perspective.vanishing_points if p.confidence >= LEAST_CONFIDENCE and len(p.members) >= FEWEST_SUPPORT]
    if len(points) < 2 or len(segments) == 0:
        return ()
    diagonal = float(np.hypot(*image_size))
    length = np.hypot(segments[:, 2] - segments[:, 0], segments[:, 3] - segments[:, 1])
    misses = misses_deg(segments, np.array([p.point for p in points]))
    family = np.where(misses.min(1) < tolerance_deg / 2, misses.argmin(1), -1)
    near = end_distances(segments) <= TOUCH_SHARE * diagonal
    found = []
    for row in np.flatnonzero((family < 0) & (length >= LONGEST_UNJUDGED_SHARE * diagonal)):
        k = int(misses[row].argmin())
        miss = float(misses[row, k])
        if points[k].role != "level" or not tolerance_deg <= miss <= FARTHEST_STRAY_DEG or np.sort(misses[row])[1] < 2 * miss:
            continue
        met = [set(family[near[row, end]]) - {-1, k} for end in (0, 1)]
        if all(met) and any(points[m].role == "level" for m in met[0] | met[1]):
            sure = (1 - np.exp(-(miss / tolerance_deg))) * points[k].confidence
            found.append(StrayEdge(int(row), points[k], miss, aimed(segments[row], points[k].point), float(sure)))
    return tuple(found)


def aimed(segment: np.ndarray, point: np.ndarray) -> np.ndarray:
    """`segment` (4,) turned about its middle so that it runs to the homogeneous `point`, and as long as before."""
    middle, along = (segment[:2] + segment[2:]) / 2, segment[2:] - segment[:2]
    ray = point[:2] - point[2] * middle
    ray = ray / np.hypot(*ray) * np.hypot(*along) / 2 * (1 if ray @ along >= 0 else -1)
    return np.concatenate([middle - ray, middle + ray])


def find_split_eye_level(segments: np.ndarray, perspective: Perspective, image_size: tuple[float, float],
                         tolerance_px: float) -> SplitEyeLevel | None:
    """The lines that run to none of the solved points, where they agree on an eye level of their own."""
    if perspective.horizon is None:
        return None
    used = np.unique(np.concatenate([p.members for p in perspective.vanishing_points if p.role == "level"]))
    rest = np.setdiff1d(np.arange(len(segments)), used)
    other = solve_perspective(segments[rest], image_size)
    if isinstance(other, NotMeasured) or other.horizon is None:
        return None
    level = [p for p in other.vanishing_points if p.role == "level" and p.confidence >= LEAST_CONFIDENCE]
    members = rest[np.unique(np.concatenate([p.members for p in level]))] if level else rest[:0]
    interval = float(np.hypot(perspective.horizon_interval, other.horizon_interval))
    apart = height_at(other.horizon, image_size[0] / 2) - height_at(perspective.horizon, image_size[0] / 2)
    if len(members) < FEWEST_SUPPORT or abs(apart) < tolerance_px + interval or interval > tolerance_px:
        return None
    if abs(other.roll_deg - perspective.roll_deg) > MOST_ROLL_BETWEEN_DEG:
        return None
    sure = min(p.confidence for p in level) * (1 - np.exp(-abs(apart) / tolerance_px))
    return SplitEyeLevel(members, other.horizon, float(apart), interval, float(sure))


def height_at(horizon: np.ndarray, x: float) -> float:
    """y where the line (a, b, c) crosses the column x."""
    return float(-(horizon[0] * x + horizon[2]) / horizon[1])
