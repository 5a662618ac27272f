"""What in a drawing contradicts its own perspective: edges that miss their vanishing point, objects with another eye level."""

from dataclasses import dataclass, replace

import numpy as np
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import connected_components

from board.vision.face_edges import FaceEdges, OffEdge
from board.vision.hatching import are_hatching
from board.vision.junctions import end_distances
from board.vision.line_segments import DrawnLines
from board.vision.object_perspective import ObjectFit, OwnPerspective, shared_shift
from board.vision.perspective import Perspective, VanishingPoint
from board.vision.roof_slopes import are_slopes
from board.vision.segment_rays import aimed, misses_deg
from board.vision.segment_weights import curve_weights

MOST_EDGES = 24  # of one object: more is a thicket, not a box
LEAST_CONFIDENCE = 0.9
LEAST_EVIDENCE = 12.0  # nats
FEWEST_SUPPORT = 6  # members that a point needs before a line can be said to miss it
WIDEST_INTERVAL = 0.04  # of the picture's height: an eye level less sure than this is held against nothing
MOST_ROLL_DEG = 15.0
TOUCH_SHARE = 0.012  # of the picture's diagonal
SHORTEST_SHARE = 0.03  # of the diagonal
FARTHEST_DEG = 45.0  # near a vanishing point a thing on another eye level misses it by as much
POOR_DOUBTS, POOR_DEG = 2.0, 1.5  # an edge that misses by more, in its own doubts and in degrees, may be wrong
USUAL_SPREAD_PX = 0.8
LEAST_STRAIGHT = 0.5  # weight of a line that does not go on as a curve at both ends
FAINT = 0.85  # a construction line stands out less than this share of what the drawing's own lines do
LONG_SHARE = 0.04  # of the diagonal: the lines that show how dark a drawing is
DARKNESS_PERCENTILE = 60
LEAST_OF_SPLIT = 0.8  # of the tolerance: shifts are fitted in steps of a fiftieth of the height
LESS_SURE_DEG, LESS_SURE_DOUBTS = 2.0, 2.5  # a line within either runs to a point
SAME_POINT_RAD = np.radians(8.0)
APART_RAD = np.radians(10.0)


@dataclass(frozen=True)
class StrayEdges:
    """Edges (rows `segments`) of one object that miss `point` by `miss_deg` at most; `true_edges` (E, 4) px run to it.

    `turn_deg` is the object's turn about the upright, where all of it is turned; None where one edge is off. Where the point is the
    upright's, the edge leans.
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
    return (len(sure_points(perspective)) >= 2 and perspective.evidence >= LEAST_EVIDENCE
            and abs(perspective.roll_deg) <= MOST_ROLL_DEG
            and perspective.horizon_interval <= WIDEST_INTERVAL * image_size[1])


def sure_points(perspective: Perspective) -> list[VanishingPoint]:
    return [p for p in perspective.vanishing_points if p.confidence >= LEAST_CONFIDENCE and len(p.members) >= FEWEST_SUPPORT]


def find_faults(segments: np.ndarray, perspective: Perspective, image_size: tuple[float, float], *, stray_deg: float,
                split_px: float, drawn: np.ndarray | None = None, doubt_deg: np.ndarray | None = None) -> PerspectiveFaults:
    """`segments` (N, 4) px, longest first; `drawn` (N,) which of them `are_drawn`, `doubt_deg` (N,) by which the direction of each
    is in doubt from how it was drawn, where they are known.

    Nothing where the perspective is not sure enough to hold an edge against.
    """
    if not len(segments) or not is_sure_enough(perspective, image_size):
        return PerspectiveFaults()
    diagonal_px = float(np.hypot(*image_size))
    drawn = np.flatnonzero(are_drawn(segments, diagonal_px, None) if drawn is None else drawn)
    if doubt_deg is None:
        doubt_deg = DrawnLines(segments, np.full(len(segments), USUAL_SPREAD_PX)).doubt_deg
    doubt_deg = np.hypot(perspective.noise_deg, doubt_deg)[drawn]
    things = _Things(segments[drawn], perspective, diagonal_px, doubt_deg)
    strays = stray_edges_of_faces(segments[drawn], perspective, diagonal_px, stray_deg, doubt_deg)
    objects = things.objects()
    fits = [ObjectFit(things.segments[rows], perspective.camera, image_size[1], doubt_deg[rows]) for rows in objects]
    for rows, fit in zip(objects, fits, strict=True):
        if (own := fit.turned()) and run_apart(things.segments[rows[own.explained]]):
            strays += things.turned(rows[own.explained], own, stray_deg)
    other = shared_shift(fits, objects)
    splits = things.split(other, split_px) if other and run_apart(things.segments[other.explained]) else []
    return PerspectiveFaults(tuple(replace(stray, segments=drawn[stray.segments]) for stray in _once(strays)),
                             tuple(replace(split, segments=drawn[split.segments]) for split in splits))


def are_drawn(segments: np.ndarray, diagonal_px: float, depths: np.ndarray | None) -> np.ndarray:
    """(N,) which lines are the drawing's own: no strokes of a hatching, and no construction lines, which are faint beside them:
    by `depths` (N,) 0 to 1, how much each is darker than what lies beside it, where they are known."""
    drawn = ~are_hatching(segments, diagonal_px)
    length = np.hypot(segments[:, 2] - segments[:, 0], segments[:, 3] - segments[:, 1])
    long = drawn & (length >= LONG_SHARE * diagonal_px)
    if depths is None or not long.any():
        return drawn
    return drawn & (depths >= FAINT * np.percentile(depths[long], DARKNESS_PERCENTILE))


def run_apart(edges: np.ndarray) -> bool:
    """Whether edges (E, 4) run in more than one direction: parallel ones may be shading, and show no thing in space."""
    angle = np.arctan2(edges[:, 3] - edges[:, 1], edges[:, 2] - edges[:, 0])
    return bool(np.abs((angle[:, None] - angle + np.pi / 2) % np.pi - np.pi / 2).max(initial=0) > APART_RAD)


def stray_edges_of_faces(segments: np.ndarray, perspective: Perspective, diagonal_px: float, stray_deg: float,
                         doubt_deg: np.ndarray) -> list[StrayEdges]:
    points = sure_points(perspective)
    misses = misses_deg(segments, np.array([p.point for p in points]))
    is_judged = (curve_weights(segments) > LEAST_STRAIGHT) & ~runs_to_less_sure(segments, perspective, doubt_deg)
    runs_to_none = misses.min(1, initial=np.inf) > np.maximum(POOR_DOUBTS * doubt_deg, POOR_DEG)
    is_judged[runs_to_none] &= ~are_slopes(segments[runs_to_none], points, diagonal_px)
    faces = FaceEdges(segments, misses, is_judged, diagonal_px, doubt_deg)
    return [_stray(off, points[off.point], segments, stray_deg) for k in range(len(points)) for off in faces.off(k, stray_deg)]


def runs_to_less_sure(segments: np.ndarray, perspective: Perspective, doubt_deg: np.ndarray) -> np.ndarray:
    """(N,) which lines run to a point that too few lines show, or that only the camera tells of: it may well have been meant."""
    sure = {id(p) for p in sure_points(perspective)}
    seen = [p.point for p in perspective.vanishing_points if id(p) not in sure]
    told = (perspective.camera.K @ perspective.camera.R_world_to_camera).T
    points = np.array([*seen, *told[[not _is_among(point, perspective) for point in told]]]).reshape(-1, 3)
    return np.any(misses_deg(segments, points) <= np.maximum(LESS_SURE_DEG, LESS_SURE_DOUBTS * doubt_deg)[:, None], axis=1)


def _is_among(point: np.ndarray, perspective: Perspective) -> bool:
    """Whether a homogeneous point lies where one of the picture's own does, seen from its camera."""
    rays = np.linalg.inv(perspective.camera.K) @ np.array([point, *(p.point for p in perspective.vanishing_points)]).T
    rays = rays / np.linalg.norm(rays, axis=0)
    return bool((np.abs(rays[:, 0] @ rays[:, 1:]) > np.cos(SAME_POINT_RAD)).any())


def _stray(off: OffEdge, point: VanishingPoint, segments: np.ndarray, stray_deg: float) -> StrayEdges:
    sure = (1 - np.exp(-off.miss_deg / stray_deg)) * point.confidence
    return StrayEdges(np.array([off.row]), point, off.miss_deg, aimed(segments[off.row], point.point)[None], None, float(sure))


def _once(strays: list[StrayEdges]) -> list[StrayEdges]:
    """An edge of a thing that is turned as a whole is told with it."""
    turned = {int(row) for stray in strays if stray.turn_deg is not None for row in stray.segments}
    return [stray for stray in strays if stray.turn_deg is not None or int(stray.segments[0]) not in turned]


class _Things:
    """The drawn lines of one picture in groups that touch, beside the level points that they run to, or miss."""

    def __init__(self, segments: np.ndarray, perspective: Perspective, diagonal_px: float, doubt_deg: np.ndarray) -> None:
        self.segments, self.perspective = segments, perspective
        self.points = perspective.vanishing_points
        misses = misses_deg(segments, np.array([p.point for p in self.points]))
        level = np.array([p.role == "level" for p in self.points])
        self.nearest, self.miss = misses.argmin(1), misses.min(1)
        self.touch_px, self.distance = TOUCH_SHARE * diagonal_px, end_distances(segments)
        length_px = np.hypot(segments[:, 2] - segments[:, 0], segments[:, 3] - segments[:, 1])
        near = level[self.nearest] & (self.miss <= FARTHEST_DEG) & (curve_weights(segments) > LEAST_STRAIGHT)
        near &= length_px >= SHORTEST_SHARE * diagonal_px
        poor_from = np.maximum(POOR_DOUBTS * doubt_deg, POOR_DEG)
        self.poor, self.good = np.flatnonzero(near & (self.miss > poor_from)), np.flatnonzero(near & (self.miss <= poor_from))

    def objects(self) -> list[np.ndarray]:
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
                found.append(np.concatenate([poor, around]))
        return found

    def turned(self, rows: np.ndarray, own: OwnPerspective, stray_deg: float) -> list[StrayEdges]:
        miss = float(self.miss[rows].max())
        if miss < stray_deg or min(map(abs, own.interval)) < 1:
            return []
        worst = self.points[int(self.nearest[rows[self.miss[rows].argmax()]])]
        true = np.array([aimed(self.segments[row], self.points[self.nearest[row]].point) for row in rows])
        return [StrayEdges(rows, worst, miss, true, own.turn_deg, _sure_of(own))]

    def split(self, own: OwnPerspective, split_px: float) -> list[SplitEyeLevel]:
        if abs(own.shift_px) < LEAST_OF_SPLIT * split_px or min(map(abs, own.interval)) < split_px / 2:
            return []
        other = self.perspective.horizon - np.array([0, 0, own.shift_px])
        return [SplitEyeLevel(own.explained, other, own.shift_px, _sure_of(own))]


def _sure_of(own: OwnPerspective) -> float:
    return float(1 - np.exp(-own.gain / 4))


def height_at(horizon: np.ndarray, x: float) -> float:
    """y where the line (a, b, c) crosses the column x."""
    return float(-(horizon[0] * x + horizon[2]) / horizon[1])
