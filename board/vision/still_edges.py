"""Edges of a drawing held against the still that it was drawn from: which run elsewhere than the still has them.

Both pictures' segments lie in one frame. An edge of the still that is drawn where it belongs is no question. One that is not, and
has beside it a drawn line of its length that is no other edge of the still, was drawn otherwise.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import connected_components

from board.vision.junctions import end_distances

SHORTEST_SHARE = 0.04  # of the panel's diagonal: an edge that is judged
RIGHT_DEG, RIGHT_SPREADS = 2.0, 2.5  # a drawn line this near to an edge of the still in direction, and beside it, is that edge
NEAREST_RIGHT, FARTHEST_RIGHT = 0.004, 0.012  # of the diagonal, aside: by how well the two pictures lie on each other
BEST_SLACK = 0.002  # of the diagonal: of parallel edges, a drawn line is the nearest
COVERED = 0.35  # of an edge, by lines that lie on it: it is drawn
FARTHEST_DEG = 14.0
BESIDE = 0.012  # of the diagonal, between middles across the edge
ALIKE_LENGTHS = 0.6, 1.6
LEAST_PIECE = 0.25  # of the edge: a line may be drawn, or found, in pieces
IN_LINE_DEG, IN_LINE_SHARE = 3.0, 0.004
OVERLAP = 0.75  # of the shorter
SPREADS_CLEAR = 3.0  # by so many times what lengths and hand leave open an edge is off
ENDS_PX = 1.0
HAND_DEG = 0.5  # by which a drawn line strays
CERTAIN = 1.645
SURELY_OFF = 0.6  # of the tolerance, by which an edge is off at 90 %
TOUCH_SHARE = 0.02
CROSSWISE_DEG = 15.0  # edges that meet at less go on in each other's line
WORST_FIT = 1.5
SAMPLES, SAMPLE_SLACK = 25, 0.003
AROUND_SHARE, FEWEST_AROUND = 0.03, 5
DRAWN_AROUND, DRAWN_AROUND_SEVERAL, ALONE_SHARE = 0.4, 0.25, 0.06


@dataclass(frozen=True)
class OffThing:
    """Edges of one thing that were drawn otherwise: `lines` (E, 4) px as drawn and `true_edges` (E, 4) as the still has them, the
    worst first; `off_deg` (E,) clockwise as seen; `sigma_deg` (E,)."""

    lines: np.ndarray
    true_edges: np.ndarray
    off_deg: np.ndarray
    sigma_deg: np.ndarray


class Lines:
    """Segments (N, 4) with what is asked of them again and again."""

    def __init__(self, segments: np.ndarray) -> None:
        self.segments = segments
        step = segments[:, 2:] - segments[:, :2]
        self.length = np.maximum(np.hypot(*step.T), 1e-9)
        self.along = step / self.length[:, None]
        self.normal = np.stack([-self.along[:, 1], self.along[:, 0]], axis=1)
        self.middle = (segments[:, :2] + segments[:, 2:]) / 2

    def __len__(self) -> int:
        return len(self.segments)


class Beside:
    """How each of N drawn lines lies by each of M edges: `turn_deg` -90..90 clockwise as seen, `aside` px between middles across
    the edge, and the span `low`..`high` px along the edge, from its middle, where they run side by side."""

    def __init__(self, drawn: Lines, edges: Lines) -> None:
        cross = edges.along[None, :, 0] * drawn.along[:, None, 1] - edges.along[None, :, 1] * drawn.along[:, None, 0]
        dot = drawn.along @ edges.along.T
        self.turn_deg = np.degrees(np.arctan2(np.where(dot < 0, -cross, cross), np.abs(dot)))
        apart = drawn.middle[:, None] - edges.middle[None]
        self.aside = np.abs((apart * edges.normal[None]).sum(-1))
        place = (apart * edges.along[None]).sum(-1)
        half = drawn.length[:, None] / 2 * np.abs(dot)
        self.low, self.high = np.maximum(place - half, -edges.length / 2), np.minimum(place + half, edges.length / 2)
        self.overlap = np.maximum(self.high - self.low, 0)
        ends_deg = np.degrees(np.sqrt(2) * ENDS_PX * np.hypot(1 / drawn.length[:, None], 1 / edges.length))
        self.sigma_deg = np.hypot(HAND_DEG, ends_deg)


class EdgeComparison:
    """`drawn` (N, 4) and `still` (M, 4) px of the panel; `is_judged` (N,) false for hatching, curves and the like."""

    def __init__(self, drawn: np.ndarray, still: np.ndarray, is_judged: np.ndarray, diagonal_px: float) -> None:
        self.drawn, self.still, self.is_judged, self.diagonal_px = Lines(drawn), Lines(still), is_judged, diagonal_px
        self.beside = Beside(self.drawn, self.still)
        self.lies_on = self._lies_on()
        self.is_explained = self.lies_on.any(1)
        self.is_drawn = self._covered() >= COVERED * self.still.length

    def _lies_on(self) -> np.ndarray:
        """(N, M) which drawn lines are which edges. How far aside one may lie is told by those that surely are."""
        beside, diagonal = self.beside, self.diagonal_px
        same = np.abs(beside.turn_deg) <= np.maximum(RIGHT_DEG, RIGHT_SPREADS * beside.sigma_deg)
        same &= beside.overlap > 0.5 * np.minimum(self.drawn.length[:, None], self.still.length)
        aside = np.where(same, beside.aside, np.inf)
        nearest = aside.min(1, initial=np.inf)
        usual = nearest[nearest <= FARTHEST_RIGHT * diagonal]
        reach = 3 * float(np.median(usual)) if len(usual) else 0.0
        reach = float(np.clip(reach, NEAREST_RIGHT * diagonal, FARTHEST_RIGHT * diagonal))
        return same & (aside <= reach) & (aside <= nearest[:, None] + BEST_SLACK * diagonal)

    def _covered(self) -> np.ndarray:
        spans = self.beside
        return np.array([_union(spans.low[on, k], spans.high[on, k]) for k, on in enumerate(self.lies_on.T)])

    def off_things(self, tolerance_deg: float) -> list[OffThing]:
        """Things with an edge that is off by `tolerance_deg` or more."""
        found = [one for k in np.flatnonzero(self._is_asked()) if (one := self._drawn_instead(int(k)))]
        found = _each_line_once(found)
        sure = [one for one in found if abs(one.off_deg) >= tolerance_deg and one.cost <= WORST_FIT and self._is_joined(one)
                and abs(one.off_deg) - CERTAIN * one.sigma_deg >= SURELY_OFF * tolerance_deg
                and abs(one.off_deg) >= SPREADS_CLEAR * one.sigma_deg]
        return [_thing(thing) for thing in self._in_things(sure) if self._stands_free(thing)]

    def _stands_free(self, thing: "list[_Instead]") -> bool:
        """Not behind a figure; an edge that is off alone has to be longer, and to stand freer."""
        around = max(self.drawn_around(one.edge) for one in thing)
        if len(thing) > 1:
            return around >= DRAWN_AROUND_SEVERAL
        length_px = float(np.hypot(*(thing[0].line[2:] - thing[0].line[:2])))
        return around >= DRAWN_AROUND and length_px >= ALONE_SHARE * self.diagonal_px

    def _is_asked(self) -> np.ndarray:
        return ~self.is_drawn & (self.still.length >= SHORTEST_SHARE * self.diagonal_px)

    def _drawn_instead(self, edge: int) -> "_Instead | None":
        """The line, perhaps in pieces, that stands where the edge should."""
        beside, length = self.beside, self.still.length[edge]
        can = self.is_judged & ~self.is_explained & (np.abs(beside.turn_deg[:, edge]) <= FARTHEST_DEG)
        can &= beside.overlap[:, edge] >= 0.8 * np.minimum(self.drawn.length, length) * LEAST_PIECE
        can &= (self.drawn.length >= LEAST_PIECE * length) & (self.drawn.length <= ALIKE_LENGTHS[1] * length)
        # A turned line's piece lies off by as much as it stands from the middle.
        swing = np.abs(beside.low + beside.high)[:, edge] / 2 * np.sin(np.radians(np.abs(beside.turn_deg[:, edge])))
        can &= beside.aside[:, edge] <= BESIDE * self.diagonal_px + swing
        best = None
        for row in np.flatnonzero(can):
            one = self._whole(int(row), np.flatnonzero(can), edge)
            if one and (best is None or one.cost < best.cost):
                best = one
        return best

    def _whole(self, row: int, others: np.ndarray, edge: int) -> "_Instead | None":
        """The line of `row` and of the pieces in line with it, if together they are like the edge."""
        own = Lines(self.drawn.segments[[row]])
        pair = Beside(Lines(self.drawn.segments[others]), own)
        off_line = np.abs((self.drawn.middle[others] - own.middle[0]) @ own.normal[0])
        pieces = others[(np.abs(pair.turn_deg[:, 0]) <= IN_LINE_DEG) & (off_line <= IN_LINE_SHARE * self.diagonal_px)]
        line = Lines(_through(self.drawn.segments[pieces])[None])
        true = Lines(self.still.segments[[edge]])
        lies = Beside(line, true)
        share = float(line.length[0] / true.length[0])
        aside, turn = float(lies.aside[0, 0]), float(lies.turn_deg[0, 0])
        beside = lies.overlap[0, 0] >= OVERLAP * min(line.length[0], true.length[0])
        is_like = beside and ALIKE_LENGTHS[0] <= share <= ALIKE_LENGTHS[1] and abs(turn) <= FARTHEST_DEG
        if not is_like or aside > BESIDE * self.diagonal_px:
            return None
        cost = aside / (BESIDE * self.diagonal_px) + abs(float(np.log(share))) + abs(turn) / FARTHEST_DEG
        return _Instead(edge, tuple(map(int, pieces)), line.segments[0], true.segments[0], turn, float(lies.sigma_deg[0, 0]), cost)

    def drawn_around(self, edge: int) -> float:
        """The share of what the still shows close by that is drawn: behind a figure it is not."""
        ends = self.still.segments[edge].reshape(2, 2)
        step = ends[1] - ends[0]
        from_start = self._samples[0] - ends[0]
        along = np.clip(from_start @ step / (step @ step), 0, 1)
        gap = np.hypot(*(from_start - along[..., None] * step).transpose(2, 0, 1))
        near = gap <= AROUND_SHARE * self.diagonal_px
        near[edge] = False
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

    def _is_joined(self, one: "_Instead") -> bool:
        """Whether an end of the line meets the drawing of an edge that its own edge meets: a sleeve beside a wall does not."""
        touch = TOUCH_SHARE * self.diagonal_px
        cross = np.abs(self.still.along @ self.still.normal[one.edge])
        meets = self.meets[one.edge] & (cross > np.sin(np.radians(CROSSWISE_DEG)))
        rows = np.flatnonzero(self.lies_on[:, meets].any(1))
        lines = np.concatenate([one.line[None], self.drawn.segments[rows]])
        return bool((end_distances(lines)[0, :, 1:] <= touch).any())

    @cached_property
    def meets(self) -> np.ndarray:
        """(M, M) which edges of the still touch each other."""
        near = (end_distances(self.still.segments) <= TOUCH_SHARE * self.diagonal_px).any(1)
        return np.logical_or(near, near.T)

    def _in_things(self, found: "list[_Instead]") -> "list[list[_Instead]]":
        """Grouped by what meets, or meets one and the same edge of the still; the worst first."""
        if not found:
            return []
        meets = (self.meets | np.eye(len(self.still), dtype=bool)).astype(float)
        edges = [one.edge for one in found]
        linked = meets[edges] @ meets[:, edges] > 0
        count, group = connected_components(coo_matrix(linked), directed=False)
        worst_first = sorted(zip(found, group, strict=True), key=lambda pair: -abs(pair[0].off_deg))
        return [[one for one, k in worst_first if k == thing] for thing in range(count)]


@dataclass(frozen=True)
class _Instead:
    edge: int
    pieces: tuple[int, ...]
    line: np.ndarray
    true_edge: np.ndarray
    off_deg: float
    sigma_deg: float
    cost: float


def _thing(edges: list[_Instead]) -> OffThing:
    return OffThing(np.array([one.line for one in edges]), np.array([one.true_edge for one in edges]),
                    np.array([one.off_deg for one in edges]), np.array([one.sigma_deg for one in edges]))


def _each_line_once(found: list[_Instead]) -> list[_Instead]:
    taken: set[int] = set()
    kept = []
    for one in sorted(found, key=lambda one: one.cost):
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


def _union(low: np.ndarray, high: np.ndarray) -> float:
    """The length that spans cover together."""
    total, reach = 0.0, -np.inf
    for row in np.argsort(low):
        total += max(0.0, high[row] - max(low[row], reach))
        reach = max(reach, high[row])
    return total
