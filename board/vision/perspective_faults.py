"""What in a drawing contradicts its own perspective: edges that miss their vanishing point, objects with another eye level."""

from dataclasses import dataclass

import numpy as np
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import connected_components

from board.vision.junctions import corner_distances, end_distances
from board.vision.object_perspective import OwnPerspective, fit_own_perspective
from board.vision.perspective import Perspective, VanishingPoint
from board.vision.segment_weights import curve_weights, hatching_weights

FARTHEST_STRAY_DEG = 14.0  # a line further off was not meant for that point
MOST_EDGES = 24  # of one object: more is a thicket, not a box
LEAST_CONFIDENCE = 0.9
LEAST_EVIDENCE = 12.0  # nats
FEWEST_SUPPORT = 6  # members that a point needs before a line can be said to miss it
WIDEST_INTERVAL = 0.04  # of the picture's height: an eye level less sure than this is held against nothing
MOST_ROLL_DEG = 15.0
TOUCH_SHARE = 0.012  # of the picture's diagonal
SHORTEST_JUDGED, SHORTEST_STRAY = 0.03, 0.08  # of the diagonal: in an object, and alone
POOR_SPREADS, POOR_DEG = 2.0, 1.5  # an edge that misses by more, in its own spreads and in degrees, may be wrong
ENDS_PX = 0.8  # how sure a segment's ends are
LEAST_ALONE = 0.6  # weight of a line that is no part of a hatching
LEAST_STRAIGHT = 0.5  # weight of a line that does not go on as a curve at both ends
ON_POINT_SHARE = 0.5  # of the tolerance: a line that misses by less runs to the point


@dataclass(frozen=True)
class StrayEdges:
    """Edges (rows `segments`) of one object that miss `point` by `miss_deg` at most; `true_edges` (E, 4) px run to it.

    `turn_deg` is the object's turn about the upright, where all of it is turned; None where one edge is off.
    """

    segments: np.ndarray
    point: VanishingPoint
    miss_deg: float
    true_edges: np.ndarray
    turn_deg: float | None
    confidence: float


@dataclass(frozen=True)
class SplitEyeLevel:
    """`segments` rows agree on `other_horizon` (a, b, c), which lies `apart_px` from the picture's own (+ below it)."""

    segments: np.ndarray
    other_horizon: np.ndarray
    apart_px: float
    confidence: float


@dataclass(frozen=True)
class PerspectiveFaults:
    strays: tuple[StrayEdges, ...] = ()
    splits: tuple[SplitEyeLevel, ...] = ()


def is_sure_enough(perspective: Perspective, image_size: tuple[float, float]) -> bool:
    """Whether a drawing's own perspective is so well seen that an edge can be held against it."""
    sure = [p for p in perspective.vanishing_points if p.confidence >= LEAST_CONFIDENCE and len(p.members) >= FEWEST_SUPPORT]
    return (len(sure) >= 2 and perspective.evidence >= LEAST_EVIDENCE and abs(perspective.roll_deg) <= MOST_ROLL_DEG
            and perspective.horizon_interval <= WIDEST_INTERVAL * image_size[1])


def find_faults(segments: np.ndarray, perspective: Perspective, image_size: tuple[float, float], *, stray_deg: float,
                split_px: float) -> PerspectiveFaults:
    """`segments` (N, 4) px, longest first. Nothing where the perspective is not sure enough to hold an edge against."""
    if not len(segments) or not is_sure_enough(perspective, image_size):
        return PerspectiveFaults()
    view = _View(segments, perspective, image_size, stray_deg)
    strays: list[StrayEdges] = []
    splits: list[SplitEyeLevel] = []
    for poor, rows in view.objects():
        own = fit_own_perspective(segments[rows], perspective.camera, image_size[1], perspective.noise_deg)
        if own is None:
            strays += [stray for row in rows if row in poor and (stray := view.stray_edge(row)) is not None]
        elif own.turn_deg:
            strays += view.turned_object(rows[own.explained], own, stray_deg)
        elif min(map(abs, own.interval)) >= split_px / 2 and abs(own.shift_px) >= split_px:
            splits.append(view.split(rows[own.explained], own, split_px))
    return PerspectiveFaults(tuple(strays), tuple(splits))


class _View:
    """The segments of one picture beside the points they run to, or miss."""

    def __init__(self, segments: np.ndarray, perspective: Perspective, image_size: tuple[float, float], stray_deg: float) -> None:
        self.segments, self.perspective, self.stray_deg = segments, perspective, stray_deg
        diagonal = float(np.hypot(*image_size))
        self.points = perspective.vanishing_points
        self.misses = misses_deg(segments, np.array([p.point for p in self.points]))
        self.level = np.array([p.role == "level" for p in self.points])
        self.nearest = self.misses.argmin(1)
        self.miss = self.misses.min(1)
        self.runs_to = np.where(self.miss < ON_POINT_SHARE * stray_deg, self.nearest, -1)
        self.touch_px, self.distance = TOUCH_SHARE * diagonal, end_distances(segments)
        self.corner = corner_distances(segments)
        alone = (hatching_weights(segments) >= LEAST_ALONE) & (curve_weights(segments) > LEAST_STRAIGHT)
        self.length_px = np.hypot(segments[:, 2] - segments[:, 0], segments[:, 3] - segments[:, 1])
        self.length = self.length_px / diagonal
        near = self.level[self.nearest] & (self.miss <= FARTHEST_STRAY_DEG) & alone & (self.length >= SHORTEST_JUDGED)
        spread_deg = np.hypot(perspective.noise_deg, np.degrees(2 * ENDS_PX / self.length_px))
        poor_from = np.maximum(POOR_SPREADS * spread_deg, POOR_DEG)
        self.poor, self.good = np.flatnonzero(near & (self.miss > poor_from)), np.flatnonzero(near & (self.miss <= poor_from))

    def objects(self) -> list[tuple[np.ndarray, np.ndarray]]:
        """Rows of edges that miss and meet each other, or one and the same edge; and with them the level edges that they meet."""
        meets = (self.distance <= self.touch_px).any(1)
        meets = (meets | meets.T).astype(float)
        through = meets[self.poor] @ meets[:, self.poor] + meets[np.ix_(self.poor, self.poor)]
        count, group = connected_components(coo_matrix(through > 0), directed=False)
        found = []
        for k in range(count):
            poor = self.poor[group == k]
            around = self.good[(meets[np.ix_(self.good, poor)] @ np.ones(len(poor))) > 0]
            if len(poor) <= MOST_EDGES:
                found.append((poor, np.concatenate([poor, around])))
        return found

    def stray_edge(self, row: int) -> StrayEdges | None:
        """One level edge of a face that is otherwise right.

        A level edge of a turned object meets the eye level in a point of its own and is no fault. So its neighbours must tell: both
        its ends meet edges that run to other points, and these are joined on their far side by an edge of the family it misses.
        """
        k, miss = int(self.nearest[row]), float(self.miss[row])
        if miss < self.stray_deg or np.sort(self.misses[row])[1] < 2 * miss or self.length[row] < SHORTEST_STRAY:
            return None
        sides = [self._others_met(row, end, k) for end in (0, 1)]
        if not len(sides[0]) or not len(sides[1]) or not self._are_joined(sides, row, k):
            return None
        sure = (1 - np.exp(-miss / self.stray_deg)) * self.points[k].confidence
        true = aimed(self.segments[row], self.points[k].point)[None]
        return StrayEdges(np.array([row]), self.points[k], miss, true, None, float(sure))

    def _others_met(self, row: int, end: int, k: int) -> np.ndarray:
        """Rows that one end of an edge meets and that run to another point than `k`."""
        # A turned edge swings away from its corners.
        reach_px = self.touch_px + 0.5 * self.length_px[row] * np.sin(np.radians(self.miss[row]))
        return np.flatnonzero((self.corner[row, end] <= reach_px) & (self.runs_to >= 0) & (self.runs_to != k))

    def _are_joined(self, sides: list[np.ndarray], row: int, k: int) -> bool:
        """Whether an edge that does run to point `k` meets an edge of either side."""
        fellows = np.flatnonzero((self.runs_to == k) & (np.arange(len(self.segments)) != row))
        touch = self.distance <= self.touch_px
        meets = np.logical_or(touch[fellows].any(axis=1), touch[:, :, fellows].any(axis=1).T)
        return bool(np.any(meets[:, sides[0]].any(axis=1) & meets[:, sides[1]].any(axis=1)))

    def turned_object(self, rows: np.ndarray, own: OwnPerspective, stray_deg: float) -> list[StrayEdges]:
        miss = float(self.miss[rows].max())
        if miss < stray_deg or min(map(abs, own.interval)) < 1:
            return []
        worst = self.points[int(self.nearest[rows[self.miss[rows].argmax()]])]
        true = np.array([aimed(self.segments[row], self.points[self.nearest[row]].point) for row in rows])
        return [StrayEdges(rows, worst, miss, true, own.turn_deg, _sure_of(own))]

    def split(self, rows: np.ndarray, own: OwnPerspective, split_px: float) -> SplitEyeLevel:
        other = self.perspective.horizon - np.array([0, 0, own.shift_px])
        return SplitEyeLevel(rows, other, own.shift_px, _sure_of(own))


def _sure_of(own: OwnPerspective) -> float:
    return float(1 - np.exp(-own.gain / 4))


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


def height_at(horizon: np.ndarray, x: float) -> float:
    """y where the line (a, b, c) crosses the column x."""
    return float(-(horizon[0] * x + horizon[2]) / horizon[1])
