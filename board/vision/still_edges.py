"""Edges of a drawing held against the still that it was drawn from: which run elsewhere than the still has them.

Both pictures lie in one frame. A drawn line that is no edge of the still, where the still shows one beside it that is not drawn as
it runs there, was drawn otherwise.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import connected_components

from board.vision.junctions import end_distances, point_distances
from board.vision.line_evidence import LineEvidence, ShownLine
from board.vision.line_segments import DrawnLines
from board.vision.lines_beside import HAND_DEG, Beside, Lines, as_line, union

SHORTEST_SHARE = 0.05  # of the panel's diagonal: a line that is judged, whole
RIGHT_DEG, RIGHT_SPREADS = 2.0, 2.5  # a drawn line this near to an edge of the still in direction, and beside it, is that edge
NEAREST_RIGHT, FARTHEST_RIGHT = 0.004, 0.012  # of the diagonal, aside: by how well the two pictures lie on each other
BEST_SLACK = 0.002  # of the diagonal: of parallel edges, a drawn line is the nearest
COVERED = 0.35  # of an edge, by lines that lie on it: it is drawn
LEAST_PIECE = 0.25  # of the shortest line that is judged: a line may be drawn, or found, in pieces
IN_LINE_DEG, IN_LINE_SHARE, IN_LINE_GAP = 3.0, 0.004, 0.5  # of the diagonal aside; of the longer piece between them
OTHER_DEG, FARTHEST_DEG = 2.5, 14.0  # what the still shows beside a line turns from it by so much
BESIDE = 0.012  # of the diagonal, at the line's middle: where the still is searched
DRAWN_BESIDE = 0.0045  # of the diagonal: what was drawn otherwise stands where it should, as far as its middle goes
SHOWN_ALONG, SHOWN_FILLED, SURELY_SHOWN = 0.45, 0.7, -10.0  # of the line; of the edge; log10 of false alarms
AS_DRAWN_DEG, LESS_SHOWN = 1.0, 0.5  # the still shows the line as it is drawn by less than so much of the logarithm
SPREADS_CLEAR = 5.5  # by so many times what hand and stroke leave open an edge is off
CERTAIN = 1.645
SURELY_OFF = 0.6  # of the tolerance, by which an edge is off at 90 %
TOUCH_SHARE = 0.02
CROSSWISE_DEG = 15.0  # edges that meet at less go on in each other's line
SAMPLES, SAMPLE_SLACK = 25, 0.003
AROUND_SHARE, FEWEST_AROUND = 0.03, 5
DRAWN_AROUND = 0.4


@dataclass(frozen=True)
class OffThing:
    """Edges of one thing that were drawn otherwise: `lines` (E, 4) px as drawn and `true_edges` (E, 4) as the still has them, the
    worst first; `off_deg` (E,) clockwise as seen; `sigma_deg` (E,)."""

    lines: np.ndarray
    true_edges: np.ndarray
    off_deg: np.ndarray
    sigma_deg: np.ndarray


class EdgeComparison:
    """`drawn` (N) and `still` (M) lines in px of the panel; `is_judged` (N,) false for hatching, curves and the like."""

    def __init__(self, drawn: DrawnLines, still: DrawnLines, is_judged: np.ndarray, diagonal_px: float,
                 evidence: LineEvidence) -> None:
        self.drawn, self.still = (Lines(lines.segments, lines.doubt_deg) for lines in (drawn, still))
        self.is_judged, self.diagonal_px, self.evidence = is_judged, diagonal_px, evidence
        self.shortest_px = SHORTEST_SHARE * diagonal_px
        self.beside = Beside(self.drawn, self.still)
        self.lies_on, self.reach_px = self._lies_on()
        self.is_explained = self.lies_on.any(1)
        self.is_drawn = self._covered() >= COVERED * self.still.length

    def _lies_on(self) -> tuple[np.ndarray, float]:
        """(N, M) which drawn lines are which edges, and how far aside one may lie, px: that is told by those that surely are."""
        beside, diagonal = self.beside, self.diagonal_px
        same = np.abs(beside.turn_deg) <= np.maximum(RIGHT_DEG, RIGHT_SPREADS * beside.sigma_deg)
        same &= beside.overlap > 0.5 * np.minimum(self.drawn.length[:, None], self.still.length)
        aside = np.where(same, beside.aside, np.inf)
        nearest = aside.min(1, initial=np.inf)
        usual = nearest[nearest <= FARTHEST_RIGHT * diagonal]
        reach = 3 * float(np.median(usual)) if len(usual) else 0.0
        reach = float(np.clip(reach, NEAREST_RIGHT * diagonal, FARTHEST_RIGHT * diagonal))
        return same & (aside <= reach) & (aside <= nearest[:, None] + BEST_SLACK * diagonal), reach

    def _covered(self) -> np.ndarray:
        spans = self.beside
        return np.array([union(spans.low[on, k], spans.high[on, k]) for k, on in enumerate(self.lies_on.T)])

    def off_things(self, tolerance_deg: float) -> list[OffThing]:
        """Things with an edge that is off by `tolerance_deg` or more."""
        asked = self.is_judged & ~self.is_explained & (self.drawn.length >= LEAST_PIECE * self.shortest_px)
        found = [one for row in np.flatnonzero(asked) if (one := self._drawn_otherwise(int(row), asked, tolerance_deg))]
        return [_thing(thing) for thing in self._in_things(_each_line_once(found))]

    def _drawn_otherwise(self, row: int, asked: np.ndarray, tolerance_deg: float) -> "_Otherwise | None":
        """A drawn line, perhaps in pieces, if it surely stands for an edge of the still that runs otherwise."""
        pieces = self._pieces(row, asked)
        line = Lines(_through(self.drawn.segments[pieces])[None], self.drawn.doubt_deg[[row]])
        shown = self._shown_beside(line)
        if shown is None:
            return None
        off_deg, sigma_deg = -shown.turn_deg, float(np.hypot(HAND_DEG, line.doubt_deg[0]))
        is_off = abs(off_deg) >= max(tolerance_deg, SPREADS_CLEAR * sigma_deg, SURELY_OFF * tolerance_deg + CERTAIN * sigma_deg)
        one = _Otherwise(line.segments[0], shown.line, tuple(map(int, pieces)), off_deg, sigma_deg, shown.false_alarms)
        stands = is_off and self._drawn_share(shown.line) < COVERED and self._is_joined(one)
        return one if stands and self.drawn_around(shown.line) >= DRAWN_AROUND else None

    def _shown_beside(self, line: Lines) -> ShownLine | None:
        """What the still shows in the place of a line, if it surely shows it, and not the line as it is drawn."""
        if line.length[0] < self.shortest_px:
            return None
        reach = BESIDE * self.diagonal_px
        shown = self.evidence.shown_near(line.segments[0], reach, OTHER_DEG, FARTHEST_DEG)
        if shown is None or shown.false_alarms > SURELY_SHOWN or abs(shown.aside_px) > DRAWN_BESIDE * self.diagonal_px:
            return None
        as_drawn = self.evidence.shown_near(line.segments[0], reach, 0.0, AS_DRAWN_DEG)
        is_as_drawn = as_drawn is not None and as_drawn.false_alarms < LESS_SHOWN * shown.false_alarms
        is_whole = shown.share >= SHOWN_ALONG and shown.filled >= SHOWN_FILLED
        return shown if is_whole and not is_as_drawn else None

    def _drawn_share(self, edge: np.ndarray) -> float:
        """How much of an edge of the still, (4,) px, is drawn where it belongs."""
        true = as_line(edge)
        beside = Beside(self.drawn, true)
        on = np.abs(beside.turn_deg[:, 0]) <= np.maximum(RIGHT_DEG, RIGHT_SPREADS * beside.sigma_deg[:, 0])
        on &= beside.aside[:, 0] <= self.reach_px
        return union(beside.low[on, 0], beside.high[on, 0]) / float(true.length[0])

    def _pieces(self, row: int, asked: np.ndarray) -> np.ndarray:
        """The rows of drawn lines in line with one of them, itself among them."""
        own, apart = self.drawn.only([row]), self.drawn.middle - self.drawn.middle[row]
        gap = np.abs(apart @ own.along[0]) - (self.drawn.length + own.length[0]) / 2
        is_one = asked & (np.abs(Beside(self.drawn, own).turn_deg[:, 0]) <= IN_LINE_DEG)
        is_one &= np.abs(apart @ own.normal[0]) <= IN_LINE_SHARE * self.diagonal_px
        is_one &= gap <= IN_LINE_GAP * np.maximum(self.drawn.length, own.length[0])
        is_one[row] = True
        return np.flatnonzero(is_one)

    def drawn_around(self, edge: np.ndarray) -> float:
        """The share of what the still shows close by that is drawn: behind a figure it is not."""
        ends = edge.reshape(2, 2)
        step = ends[1] - ends[0]
        from_start = self._samples[0] - ends[0]
        along = np.clip(from_start @ step / (step @ step), 0, 1)
        gap = np.hypot(*(from_start - along[..., None] * step).transpose(2, 0, 1))
        same = Beside(self.still, as_line(edge))
        near = gap <= AROUND_SHARE * self.diagonal_px
        near[(np.abs(same.turn_deg[:, 0]) <= IN_LINE_DEG) & (same.aside[:, 0] <= IN_LINE_SHARE * self.diagonal_px)] = False
        return float(self._samples[1][near].mean()) if near.sum() >= FEWEST_AROUND else 0.0

    @cached_property
    def _samples(self) -> tuple[np.ndarray, np.ndarray]:
        """(M, K, 2) points along the edges of the still, and (M, K) whether something is drawn there that is this edge."""
        share = np.linspace(-0.5, 0.5, SAMPLES)
        at = share * self.still.length[:, None]
        points = self.still.middle[:, None] + at[..., None] * self.still.along[:, None]
        slack = SAMPLE_SLACK * self.diagonal_px
        on = (self.beside.low[..., None] - slack <= at) & (at <= self.beside.high[..., None] + slack) & self.lies_on[..., None]
        return points, on.any(0)

    def _is_joined(self, one: "_Otherwise") -> bool:
        """Whether an end of the line meets the drawing of an edge that its own edge meets: a sleeve beside a wall does not."""
        touch = TOUCH_SHARE * self.diagonal_px
        cross = np.abs(self.still.along @ as_line(one.edge).normal[0])
        meets = self._meets(one.edge) & (cross > np.sin(np.radians(CROSSWISE_DEG)))
        neighbours = self.drawn.segments[self.lies_on[:, meets].any(1)]
        return bool((point_distances(one.line.reshape(2, 2), neighbours) <= touch).any())

    def _meets(self, edge: np.ndarray) -> np.ndarray:
        """(M,) which edges of the still touch one of its own (4,) px."""
        own = point_distances(edge.reshape(2, 2), self.still.segments).min(0)
        others = point_distances(self.still.segments.reshape(-1, 2), edge[None]).reshape(-1, 2).min(1)
        return np.minimum(own, others) <= TOUCH_SHARE * self.diagonal_px

    def _in_things(self, found: "list[_Otherwise]") -> "list[list[_Otherwise]]":
        """Grouped by what meets, or meets one and the same edge of the still; the worst first."""
        if not found:
            return []
        meets = np.array([self._meets(one.edge) for one in found])
        touch = (end_distances(np.array([one.edge for one in found])) <= TOUCH_SHARE * self.diagonal_px).any(1)
        linked = touch | touch.T | (meets[:, None] & meets).any(-1)
        count, group = connected_components(coo_matrix(linked), directed=False)
        worst_first = sorted(zip(found, group, strict=True), key=lambda pair: -abs(pair[0].off_deg))
        return [[one for one, k in worst_first if k == thing] for thing in range(count)]


@dataclass(frozen=True)
class _Otherwise:
    line: np.ndarray
    edge: np.ndarray
    pieces: tuple[int, ...]
    off_deg: float
    sigma_deg: float
    false_alarms: float


def _thing(edges: list[_Otherwise]) -> OffThing:
    return OffThing(np.array([one.line for one in edges]), np.array([one.edge for one in edges]),
                    np.array([one.off_deg for one in edges]), np.array([one.sigma_deg for one in edges]))


def _each_line_once(found: list[_Otherwise]) -> list[_Otherwise]:
    taken: set[int] = set()
    kept = []
    for one in sorted(found, key=lambda one: one.false_alarms):
        if taken.isdisjoint(one.pieces):
            taken.update(one.pieces)
            kept.append(one)
    return kept


def _through(segments: np.ndarray) -> np.ndarray:
    """(4,) the segment through pieces (P, 4) of one line, from end to end; each piece counts by its length."""
    ends, length = segments.reshape(-1, 2), np.repeat(np.hypot(*(segments[:, 2:] - segments[:, :2]).T), 2)
    middle = np.average(ends, axis=0, weights=length)
    off = (ends - middle) * np.sqrt(length)[:, None]
    along = np.linalg.svd(off, full_matrices=False)[2][0]
    place = (ends - middle) @ along
    return np.concatenate([middle + place.min() * along, middle + place.max() * along])
