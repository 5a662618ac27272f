"""Whether a picture shows a line near where one is looked for: by the points of its strokes and edges, no line being found first.

How many points in a row are chance is told by how many lie about, as an a-contrario test does: Desolneux, Moisan and Morel, From
Gestalt Theory to Image Analysis, 2008.
"""

from dataclasses import dataclass

import numpy as np
from scipy.spatial import cKDTree
from scipy.special import bdtrc

from board.vision.line_points import stroke_and_edge_points

STEP_DEG = 0.5
DIRECTION_RAD = np.radians(12.0)  # between a point's own direction and the line's
BIN_STEPS = 1.5  # along the line, in steps of the points: every bin of a line that is shown has one
FEWEST_BINS = 8
LEAST_CHANCE, MOST_CHANCE = 0.02, 0.9  # that a bin has a point anyway
NEARER_FIRST = 0.3  # bins: of lines shown as well, the nearer to where it is looked for
MISSED = 1.5  # a line goes on over a gap while it has so many bins shown for each that is not


@dataclass(frozen=True)
class ShownLine:
    """`line` (4,) px, from its first to its last point; turned by `turn_deg` clockwise as seen and `aside_px` to the right of the
    one that was looked for, at its middle. It runs along `share` of that one's length and is shown in `filled` of its own.

    `false_alarms`: log10 of how many lines as good are shown by chance.
    """

    line: np.ndarray
    turn_deg: float
    aside_px: float
    share: float
    filled: float
    false_alarms: float


class LineEvidence:
    """Points (P, 2) px, one for every `step_px` along the lines of a picture, with the directions (P,) radians of those lines."""

    def __init__(self, points: np.ndarray, along: np.ndarray, step_px: float) -> None:
        self.points, self.along, self.step_px = points, along % np.pi, step_px
        self.tree = cKDTree(points)

    @staticmethod
    def of_picture(gray: np.ndarray, S: np.ndarray) -> "LineEvidence":
        """Of `gray` uint8 (H, W), as it lies after a similarity (3, 3)."""
        found = stroke_and_edge_points(gray)
        at, along = (np.concatenate([getattr(one, name) for one in found]) for name in ("at", "along"))
        # A point's pixel covers [i, i + 1].
        return LineEvidence((at + 0.5) @ S[:2, :2].T + S[:2, 2], along + np.arctan2(S[1, 0], S[0, 0]), float(np.hypot(*S[:2, 0])))

    def shown_near(self, line: np.ndarray, reach_px: float, least_deg: float, most_deg: float) -> ShownLine | None:
        """What is best shown of lines (4,) px whose middle lies within `reach_px` aside, turned by `least_deg` to `most_deg` either
        way; None where there is nothing."""
        half = float(np.hypot(*(line[2:] - line[:2]))) / 2
        middle, along = (line[:2] + line[2:]) / 2, (line[2:] - line[:2]) / (2 * half)
        right = np.array([-along[1], along[0]])
        rows = np.array(self.tree.query_ball_point(middle, half + reach_px), int)
        place, aside = (self.points[rows] - middle) @ along, (self.points[rows] - middle) @ right
        angle = (self.along[rows] - np.arctan2(along[1], along[0]) + np.pi / 2) % np.pi - np.pi / 2
        own = np.abs(place) < half
        bins = max(FEWEST_BINS, int(2 * half / (BIN_STEPS * self.step_px)))
        bin_of = ((place[own] + half) / (2 * half) * bins).astype(int).clip(0, bins - 1)
        turns = np.radians(np.arange(-most_deg, most_deg + STEP_DEG / 2, STEP_DEG))
        turns = turns[np.abs(turns) >= np.radians(least_deg) - 1e-9]
        asides = np.arange(-reach_px, reach_px + self.step_px / 2, self.step_px)
        hit = self._hits(place[own], aside[own], angle[own], bin_of, turns, asides, bins)
        count = hit.sum(-1)
        nearest = (count - NEARER_FIRST * np.abs(asides) / reach_px).argmax(1)
        best = count[np.arange(len(turns)), nearest]
        chance = hit.mean((1, 2)).clip(LEAST_CHANCE, MOST_CHANCE)
        with np.errstate(divide="ignore"):  # the upper tail of a binomial; all of `scipy.stats` would take half a second to load
            alarms = np.log10(len(turns) * len(asides)) + np.log10(bdtrc(best - 1, bins, chance))
        k = int(alarms.argmin())
        if not best[k]:
            return None
        shown = hit[k, nearest[k]]
        first, last = _longest_stretch(shown)
        at, way = middle + asides[nearest[k]] * right, along * np.cos(turns[k]) + right * np.sin(turns[k])
        ends = [at + (2 * edge / bins - 1) * half / np.cos(turns[k]) * way for edge in (first, last)]
        return ShownLine(np.concatenate(ends), float(np.degrees(turns[k])), float(asides[nearest[k]]), (last - first) / bins,
                         float(shown[first:last].mean()), float(alarms[k]))

    def _hits(self, place: np.ndarray, aside: np.ndarray, angle: np.ndarray, bin_of: np.ndarray, turns: np.ndarray,
              asides: np.ndarray, bins: int) -> np.ndarray:
        """(T, A, B) whether a point that heads that way lies in each bin of each line, within a step of it."""
        hit = np.zeros((len(turns), len(asides), bins), bool)
        turn, point = np.nonzero(np.abs(angle - turns[:, None]) <= DIRECTION_RAD)
        steps = (aside[point] - np.tan(turns[turn]) * place[point] - asides[0]) / self.step_px
        for row in (np.floor(steps).astype(int), np.floor(steps).astype(int) + 1):
            is_near = (row >= 0) & (row < len(asides))
            hit[turn[is_near], row[is_near], bin_of[point[is_near]]] = True
        return hit


def _longest_stretch(shown: np.ndarray) -> tuple[int, int]:
    """From which bin of (B,) to before which most is shown for what is missing."""
    total = np.concatenate([[0.0], np.cumsum(np.where(shown, 1.0, -MISSED))])
    last = int((total - np.minimum.accumulate(total)).argmax())
    return int(total[: last + 1].argmin()), last
