"""One edge of a drawn face that is off while the rest of the face is right.

A line that misses a vanishing point is no fault by itself: it may belong to a thing that stands askew, to a roof, to an arm. It is
one where the other three edges of its face say so: both its ends meet edges that run to one other point, and those are joined on
their far side by an edge that does run to the point it misses, about as long as it is. Where the edges beside it miss the point as
it does, the thing stands askew.
"""

from dataclasses import dataclass

import numpy as np

from board.vision.junctions import end_distances

FARTHEST_DEG = 11.5  # a line further off was not meant for that point
DOUBTS_CLEAR = 6.0  # an edge is off only by so many times what its direction is in doubt by
RIGHT_DOUBTS, RIGHT_DEG = 2.5, 1.0
SHORTEST_SHARE = 0.045  # of the picture's diagonal: an edge that is judged
SHORTEST_SIDE_SHARE = 0.02
TOUCH_SHARE = 0.012
ALIKE_LENGTHS = 0.5, 2.0
OVERLAP = 0.6  # of the judged edge, beside its companion
WEDGE = 0.4  # of the distance at the middle
NEXT_BEST = 1.5  # times as far from any other point
ASKEW_DOUBTS, ASKEW_DEG, FARTHEST_ASKEW_DEG = 2.5, 2.5, 16.0  # an edge beside it that misses by so much is off as well


@dataclass(frozen=True)
class OffEdge:
    """`row` misses point `point` by `miss_deg`; `face` are the rows of the edges that tell so."""

    row: int
    point: int
    miss_deg: float
    face: tuple[int, ...]


class FaceEdges:
    """`segments` (N, 4) px; `misses_deg` (N, P) from each of P points; `is_judged` (N,) false for hatching, curves and the like;
    `doubt_deg` (N,) how sure each one's direction is."""

    def __init__(self, segments: np.ndarray, misses_deg: np.ndarray, is_judged: np.ndarray, diagonal_px: float,
                 doubt_deg: np.ndarray) -> None:
        self.segments, self.misses, self.diagonal_px = segments, misses_deg, diagonal_px
        self.length_px = np.hypot(segments[:, 2] - segments[:, 0], segments[:, 3] - segments[:, 1])
        self.doubt_deg = doubt_deg
        self.nearest = misses_deg.argmin(1)
        self.miss = misses_deg.min(1)
        right = self.miss <= np.maximum(RIGHT_DEG, RIGHT_DOUBTS * self.doubt_deg)
        right &= is_judged & (self.length_px >= SHORTEST_SIDE_SHARE * diagonal_px)
        self.runs_to = np.where(right, self.nearest, -1)
        self.is_judged = is_judged & (self.length_px >= SHORTEST_SHARE * diagonal_px)
        self.distance = end_distances(segments)

    def off(self, point: int, least_deg: float) -> list[OffEdge]:
        """The edges that were meant for this point and miss it by `least_deg` or more."""
        miss = self.misses[:, point]
        others = np.delete(self.misses, point, axis=1).min(1, initial=90.0)
        candidates = self.is_judged & (miss >= np.maximum(least_deg, DOUBTS_CLEAR * self.doubt_deg)) & (miss <= FARTHEST_DEG)
        candidates &= others >= NEXT_BEST * miss
        found = []
        for row in np.flatnonzero(candidates):
            face = self._face(int(row), point)
            if face and not self._stands_askew(int(row), point):
                found.append(OffEdge(int(row), point, float(miss[row]), face))
        return found

    def _face(self, row: int, point: int) -> tuple[int, ...]:
        for side_point in range(self.misses.shape[1]):
            if side_point == point:
                continue
            first, second = (self._sides(row, end, point, side_point) for end in (0, 1))
            if not len(first) or not len(second):
                continue
            for companion in self._companions(row, point):
                one, other = self._one_met(companion, first), self._one_met(companion, second)
                if one is not None and other is not None and one != other and not self._is_wedge(row, int(companion)):
                    return (int(companion), one, other)
        return ()

    def _stands_askew(self, row: int, point: int) -> bool:
        """Whether another edge that meets the same sides misses the point too."""
        others = [k for k in range(self.misses.shape[1]) if k != point]
        sides = np.concatenate([self._sides(row, end, point, k) for end in (0, 1) for k in others])
        touch = TOUCH_SHARE * self.diagonal_px
        meets = (self.distance[:, :, sides].min((1, 2)) <= touch) | (self.distance[sides].min((0, 1)) <= touch)
        miss = self.misses[:, point]
        off = (miss > np.maximum(ASKEW_DEG, ASKEW_DOUBTS * self.doubt_deg)) & (miss < FARTHEST_ASKEW_DEG)
        off &= np.delete(self.misses, point, axis=1).min(1, initial=90.0) > miss
        off[row] = False
        return bool((meets & off & self.is_judged).any())

    def _reach_px(self, row: int, point: int) -> float:
        """A turned edge swings away from its corners."""
        swing = 0.5 * self.length_px[row] * np.sin(np.radians(min(self.misses[row, point], FARTHEST_DEG)))
        return TOUCH_SHARE * self.diagonal_px + float(swing)

    def _sides(self, row: int, end: int, point: int, side_point: int) -> np.ndarray:
        """Rows of edges that one end of an edge meets and that run to the point `side_point`."""
        return np.flatnonzero((self.distance[row, end] <= self._reach_px(row, point)) & (self.runs_to == side_point))

    def _companions(self, row: int, point: int) -> np.ndarray:
        """Rows of edges that run to the point, lie beside the judged one and are about as long; the nearest first."""
        share = self.length_px / self.length_px[row]
        rows = np.flatnonzero((self.runs_to == point) & (share >= ALIKE_LENGTHS[0]) & (share <= ALIKE_LENGTHS[1]))
        start, along = self.segments[row, :2], self.segments[row, 2:] - self.segments[row, :2]
        along = along / self.length_px[row]
        place = np.sort((self.segments[rows].reshape(-1, 2, 2) - start) @ along, axis=1)
        beside = np.minimum(place[:, 1], self.length_px[row]) - np.maximum(place[:, 0], 0)
        rows = rows[(beside >= OVERLAP * self.length_px[row]) & (rows != row)]
        middle = start + along * self.length_px[row] / 2
        apart = np.hypot(*((self.segments[rows, :2] + self.segments[rows, 2:]) / 2 - middle).T)
        return rows[np.argsort(apart, kind="stable")]

    def _is_wedge(self, row: int, companion: int) -> bool:
        """Whether the two run together at one end: a roof's slope and its eaves, not two sides of a face."""
        start, along = self.segments[companion, :2], self.segments[companion, 2:] - self.segments[companion, :2]
        off = self.segments[row].reshape(2, 2) - start
        apart = (off[:, 0] * along[1] - off[:, 1] * along[0]) / self.length_px[companion]
        return bool(apart[0] * apart[1] <= 0 or np.abs(apart).min() < WEDGE * np.abs(apart).mean())

    def _one_met(self, companion: int, sides: np.ndarray) -> int | None:
        touch = TOUCH_SHARE * self.diagonal_px
        meets = (self.distance[companion][:, sides].min(0) <= touch) | (self.distance[sides][:, :, companion].min(1) <= touch)
        return int(sides[meets.argmax()]) if meets.any() else None
