"""What in a drawing contradicts its own perspective: edges that miss their vanishing point, objects with another eye level."""

from dataclasses import dataclass, replace

import numpy as np

from board.vision.edge_signs import EdgeSigns
from board.vision.fault_odds import EDGE_OFF, EYE_LEVEL_SPLIT, THING_TURNED, confidence
from board.vision.hatching import are_hatching
from board.vision.line_segments import DrawnLines
from board.vision.object_perspective import ObjectFit, OtherEyeLevel, possible_points, shared_shift
from board.vision.perspective import Perspective, VanishingPoint
from board.vision.segment_rays import aimed
from board.vision.stroke_depths import usual_depth
from board.vision.sure_points import is_sure_enough
from board.vision.thing_signs import level_signs, thing_signs
from board.vision.touching_things import TouchingThings

USUAL_SPREAD_PX = 0.8
FAINT = 0.85  # a construction line stands out less than this share of what the drawing's own lines do
LEAST_OF_SPLIT = 0.8  # of the tolerance: shifts are fitted in steps of a fiftieth of the height


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


def find_faults(segments: np.ndarray, perspective: Perspective, image_size: tuple[float, float], *, stray_deg: float,
                split_px: float, drawn: np.ndarray | None = None, depths: np.ndarray | None = None,
                doubt_deg: np.ndarray | None = None) -> PerspectiveFaults:
    """`segments` (N, 4) px, longest first. Where they are known: `drawn` (N,) which of them `are_drawn`, `depths` (N,) 0 to 1, how
    much each is darker than what lies beside it, `doubt_deg` (N,) by which the direction of each is in doubt from how it was drawn.

    Nothing where the perspective is not sure enough to hold an edge against.
    """
    if not len(segments) or not is_sure_enough(perspective, image_size):
        return PerspectiveFaults()
    diagonal_px = float(np.hypot(*image_size))
    drawn = np.flatnonzero(are_drawn(segments, diagonal_px, depths) if drawn is None else drawn)
    if doubt_deg is None:
        doubt_deg = DrawnLines(segments, np.full(len(segments), USUAL_SPREAD_PX)).doubt_deg
    doubt_deg = np.hypot(perspective.noise_deg, doubt_deg)[drawn]
    lines = EdgeSigns(segments[drawn], perspective, diagonal_px, doubt_deg, None if depths is None else depths[drawn])
    things = TouchingThings(lines, perspective)
    objects = things.objects()
    points = possible_points(perspective.camera, image_size[1])
    fits = [ObjectFit(lines.segments[rows], points, image_size[1], doubt_deg[rows]) for rows in objects]
    strays = [stray for rows, fit in zip(objects, fits, strict=True) for stray in _turned(things, rows, fit, stray_deg)]
    other = shared_shift(fits, objects, LEAST_OF_SPLIT * split_px)
    splits = [] if other is None else [_split(other, image_size[1], lines)]
    # What hangs on another eye level more likely than not is off for that, even where it is not told.
    elsewhere = {int(row) for split in splits if split.confidence >= 0.5 for row in split.segments}
    strays += [stray for stray in stray_edges(lines, stray_deg) if int(stray.segments[0]) not in elsewhere]
    splits = [split for split in splits if split.confidence >= confidence(EYE_LEVEL_SPLIT.least)]
    return PerspectiveFaults(tuple(replace(stray, segments=drawn[stray.segments]) for stray in _once(strays)),
                             tuple(replace(split, segments=drawn[split.segments]) for split in splits))


def are_drawn(segments: np.ndarray, diagonal_px: float, depths: np.ndarray | None) -> np.ndarray:
    """(N,) which lines are the drawing's own: no strokes of a hatching, and no construction lines, which are faint beside them:
    by `depths` (N,) 0 to 1, how much each is darker than what lies beside it, where they are known."""
    drawn = ~are_hatching(segments, diagonal_px)
    length = np.hypot(segments[:, 2] - segments[:, 0], segments[:, 3] - segments[:, 1])
    usual = None if depths is None else usual_depth(depths[drawn], length[drawn], diagonal_px)
    return drawn if depths is None or usual is None else drawn & (depths >= FAINT * usual)


def stray_edges(lines: EdgeSigns, stray_deg: float) -> list[StrayEdges]:
    """Lines that were most likely edges meant for a point which they miss; each once, for the point that it is likeliest for."""
    likeliest: dict[int, tuple[float, int]] = {}
    for point in range(len(lines.points)):
        for row in map(int, lines.candidates(point, stray_deg)):
            likeliest[row] = max(likeliest.get(row, (EDGE_OFF.least, -1)), (EDGE_OFF.of(lines.of(row, point)), point))
    return [_stray(lines, row, point, odds) for row, (odds, point) in likeliest.items() if point >= 0]


def _stray(lines: EdgeSigns, row: int, point: int, odds: float) -> StrayEdges:
    meant, segment = lines.points[point], lines.segments[row]
    return StrayEdges(np.array([row]), meant, float(lines.misses[row, point]), aimed(segment, meant.point)[None], None,
                      confidence(odds) * meant.confidence)


def _once(strays: list[StrayEdges]) -> list[StrayEdges]:
    """An edge of a thing that is turned as a whole is told with it."""
    turned = {int(row) for stray in strays if stray.turn_deg is not None for row in stray.segments}
    return [stray for stray in strays if stray.turn_deg is not None or int(stray.segments[0]) not in turned]


def _turned(things: TouchingThings, rows: np.ndarray, fit: ObjectFit, stray_deg: float) -> list[StrayEdges]:
    own, lines = fit.turned(), things.lines
    if own is None or (odds := THING_TURNED.of(thing_signs(own, fit, rows, lines))) < THING_TURNED.least:
        return []
    edges = rows[own.explained]
    miss = float(things.miss[edges].max())
    if miss < stray_deg:
        return []
    worst = things.points[int(things.nearest[edges[things.miss[edges].argmax()]])]
    true = np.array([aimed(lines.segments[row], things.points[things.nearest[row]].point) for row in edges])
    return [StrayEdges(edges, worst, miss, true, own.turn_deg, confidence(odds))]


def _split(other: OtherEyeLevel, height_px: float, lines: EdgeSigns) -> SplitEyeLevel:
    horizon = lines.horizon - np.array([0, 0, other.shift_px])
    odds = EYE_LEVEL_SPLIT.of(level_signs(other, height_px, lines))
    return SplitEyeLevel(other.explained, horizon, other.shift_px, confidence(odds))
