"""Signs by which a line that misses a vanishing point is told for an edge that was meant for it, or for something else.

A line that misses a point is no fault by itself: it may belong to a thing that stands askew, to a roof, to an arm. No one sign
settles that; each is weighed (`fault_odds`). All are measured on the lines alone. Shares and limits are own choices, no source.
"""

import numpy as np

from board.vision.camera import Camera, height_at
from board.vision.closed_face import face_closed
from board.vision.junctions import end_distances
from board.vision.perspective import Perspective
from board.vision.roof_slopes import are_slopes
from board.vision.segment_rays import misses_deg
from board.vision.segment_weights import curve_weights
from board.vision.short_arrays import cross_of
from board.vision.stroke_depths import usual_depth
from board.vision.sure_points import runs_to_less_sure, sure_points

SHORTEST_SHARE = 0.035  # of the picture's diagonal: a line that is judged
SHORTEST_KNOWN_SHARE = 0.02  # and one that it is held against
FARTHEST_DEG = 11.5  # a line further off was not meant for that point
NEXT_BEST = 1.2  # times as far from any other point
LEAST_STRAIGHT = 0.5  # weight of a line that does not go on as a curve at both ends
KEEPS_DOUBTS, KEEPS_DEG = 2.5, 1.5  # a line within either keeps to a point
STRAYS_DOUBTS, STRAYS_DEG = 2.0, 1.5  # and one beyond both keeps to none
TOUCH_SHARE = 0.012  # of the diagonal
STOPS_TOUCH, MOST_STOPS = 1.2, 5  # times as far, where an edge stops at the line's side
MOST_GAP = 4.0  # times an end's reach
AROUND = 0.6  # of its length, from middle to middle
BESIDE = 0.5  # of its length, to either side
ASIDE_PX = 5.0  # nearer is the same stroke
ALIKE_LENGTHS, OVERLAP = (0.5, 2.0), 0.6
FELLOW_DEG, FELLOW_LENGTH, FELLOW_NEAR = 1.5, 0.35, 1.5
MOST_STRAYS, MOST_FELLOWS = 5, 3
LEAST_DEPTH = 0.02  # of which the logarithm is taken
ALONG_DEG, ALONG_NEAR = 12.0, 2.5  # edges that run as it does, and how far away they may lie, in its own lengths
RAIN_DEG, LONGEST_RAIN = 8.0, 2.5  # strokes that run alike all over the picture, and how long they are at most, in its own length
MOST_RISE_DEG = 20.0
GABLE_DEG, GABLE_LEAST_DEG, GABLE_SHARE = 10.0, 15.0, 0.03
USUAL_LENGTH, USUAL_DOUBTS = 0.06, 6.0  # about which the logarithms are taken
CLEAR = 0.75  # logarithm: what is missed by more doubts is no clearer


class EdgeSigns:
    """Of the drawn `segments` (N, 4) px of one picture; `doubt_deg` (N,) by which the direction of each is in doubt, `depths` (N,)
    0 to 1 by how much each is darker than what lies beside it, where they are known.

    `misses` (N, P) degrees from each of the sure `points`, `nearest` and `miss` (N,) the least; `keeps` and `strays` (N,) whether a
    line runs to a point, or surely to none; `distance` (N, 2, N) px from its ends to the others, `touches` (N, N) whether an end of
    either comes near the other, `held` (N,) whether a line touches one that keeps to a point; `darkness` (N,) logarithm of how dark
    it is beside most long lines, 0 at most, `straightness` (N,) less where it goes on as a curve; `order` 0 to 1, the share of all
    lines, by length, that keeps to a point; `rise_deg` (L, N) over each level point.
    """

    def __init__(self, segments: np.ndarray, perspective: Perspective, diagonal_px: float, doubt_deg: np.ndarray,
                 depths: np.ndarray | None = None) -> None:
        self.segments, self.diagonal_px, self.doubt_deg = segments, diagonal_px, doubt_deg
        self.points = sure_points(perspective)
        self.misses = misses_deg(segments, np.array([p.point for p in self.points]))
        self.nearest, self.miss = self.misses.argmin(1), self.misses.min(1)
        step = segments[:, 2:] - segments[:, :2]
        self.length = np.hypot(*step.T)
        self.along, self.middle = step / self.length[:, None], (segments[:, :2] + segments[:, 2:]) / 2
        self.angle_deg = np.degrees(np.arctan2(*self.along.T[::-1]))
        self.straightness = curve_weights(segments)
        self.straight = self.straightness > LEAST_STRAIGHT
        self.keeps = self.straight & (self.miss <= np.maximum(KEEPS_DEG, KEEPS_DOUBTS * doubt_deg))
        self.keeps &= self.length >= SHORTEST_KNOWN_SHARE * diagonal_px
        self.strays = self.miss > np.maximum(STRAYS_DEG, STRAYS_DOUBTS * doubt_deg)
        self.less_sure = runs_to_less_sure(segments, perspective, doubt_deg)
        self.slopes = np.zeros(len(segments), bool)
        self.slopes[self.strays] = are_slopes(segments[self.strays], self.points, diagonal_px)
        self.distance = end_distances(segments)
        near = self.distance.min(1) <= TOUCH_SHARE * diagonal_px
        self.touches = near | near.T
        self.held = (self.touches & self.keeps).any(1)
        self.order = (self.length * self.keeps).sum() / self.length.sum()
        usual = None if depths is None else usual_depth(depths, self.length, diagonal_px)
        self.darkness = np.zeros(len(segments)) if depths is None or usual is None else _darkness(depths, usual)
        self.lines = np.cross(*np.concatenate([segments.reshape(-1, 2, 2), np.ones((len(segments), 2, 1))], axis=2).swapaxes(0, 1))
        self.horizon = perspective.horizon
        told = perspective.camera.K @ perspective.camera.R_world_to_camera[:, 1]
        upright = next((p.point for p in perspective.vanishing_points if p.role == "upright"), told)
        self.walls = [cross_of(p.point, upright) if p.role == "level" else None for p in self.points]
        self.rise_deg = rises_deg(self.lines, [p.point for p in self.points if p.role == "level"], upright, perspective.camera)
        self.level = [k for k, p in enumerate(self.points) if p.role == "level"]

    def candidates(self, point: int, least_deg: float) -> np.ndarray:
        """Rows of the lines that may have been meant for this point and miss it by `least_deg` or more."""
        miss, others = self.misses[:, point], np.delete(self.misses, point, axis=1).min(1, initial=90.0)
        may_be = self.straight & (self.length >= SHORTEST_SHARE * self.diagonal_px)
        return np.flatnonzero(may_be & (miss >= least_deg) & (miss <= FARTHEST_DEG) & (others >= NEXT_BEST * miss))

    def turns_deg(self, rows: int | np.ndarray) -> np.ndarray:
        """Degrees, 0 to 90, between all lines and one (N,) or several (N, K) of them."""
        return np.abs((np.subtract.outer(self.angle_deg, self.angle_deg[rows]) + 90) % 180 - 90)

    def of(self, row: int, point: int) -> dict[str, float]:
        """By name; logarithms are natural."""
        return {**self._of_line(row, point), **self._of_ends(row, point), **self._of_neighbours(row, point),
                **self._of_slope(row, point)}

    def _of_line(self, row: int, point: int) -> dict[str, float]:
        others = np.delete(self.misses[row], point).min(initial=90.0)
        return {"length": np.log(self.length[row] / (USUAL_LENGTH * self.diagonal_px)),
                "straightness": float(self.straightness[row]), "darkness": float(self.darkness[row]),
                "to_less_sure": float(self.less_sure[row]), "above_eye_level": float(self.are_above(self.middle[row])),
                "next_best": np.log(others / self.misses[row, point]), "order": self.order}

    def are_above(self, points: np.ndarray) -> np.ndarray:
        """Whether points (..., 2) px lie above the eye level."""
        return points[..., 1] < height_at(self.horizon, points[..., 0])

    def _of_ends(self, row: int, point: int) -> dict[str, float]:
        """Corners that it should have with edges of other directions. A turned edge swings away from its corners."""
        touch = TOUCH_SHARE * self.diagonal_px
        reach = touch + self.length[row] / 2 * np.sin(np.radians(self.misses[row, point]))
        crosswise, met = self.keeps & (self.nearest != point), self.distance[row] <= reach
        gaps = np.minimum(self.distance[row][:, crosswise].min(1, initial=np.inf) / reach, MOST_GAP)
        stops = crosswise & (self.distance[:, :, row].min(1) <= STOPS_TOUCH * touch)
        rise = abs(self.rise_deg[self.level.index(point), row]) if point in self.level else 0.0
        steep = self.turns_deg(row) > ALONG_DEG
        other_ways = [self.segments[crosswise & steep & (self.nearest == k)] for k in range(len(self.points)) if k != point]
        alike = self.segments[self.keeps & (self.nearest == point)]
        return {"corner_gaps": np.log(0.3 + gaps).sum(), "meets_strangers": float((met & ~self.keeps).any()),
                "edges_stop_at_it": min(stops.sum(), MOST_STOPS),
                "stop_on_one_side": min(self._most_on_a_side(row, stops & steep), MOST_STOPS),
                "rises_and_edges_stop": min(rise / MOST_RISE_DEG, 3.0) * min(stops.sum(), MOST_STOPS),
                "closes_a_face": face_closed(self.segments[row], other_ways, alike, reach + touch, touch)}

    def _most_on_a_side(self, row: int, lines: np.ndarray) -> int:
        """How many of some `lines` (N,) leave to the side of this one to which more of them do."""
        aside = (self.segments[lines].reshape(-1, 2, 2) - self.middle[row]) @ self._normal(row)
        is_left = aside.sum(1) > 0
        return max(int(is_left.sum()), int((~is_left).sum()))

    def _normal(self, row: int) -> np.ndarray:
        return np.array([-self.along[row, 1], self.along[row, 0]])

    def _of_neighbours(self, row: int, point: int) -> dict[str, float]:
        offset, length, others = self.middle - self.middle[row], self.length[row], np.arange(len(self.segments)) != row
        away, apart, turn = np.hypot(*offset.T), offset @ self._normal(row), self.turns_deg(row)
        around = others & (away < AROUND * length)
        in_order = []
        for side in (-1, 1):
            beside = others & (side * apart > ASIDE_PX) & (side * apart < BESIDE * length)
            beside &= np.abs(offset @ self.along[row]) < AROUND * length
            known, strange = (self.length[beside & kept].sum() / length for kept in (self.keeps, ~self.keeps))
            in_order.append((known + 0.2) / (known + strange + 0.4))
        stray = others & self.straight & self.strays & (self.length >= FELLOW_LENGTH * length) & (np.abs(apart) > ASIDE_PX)
        fellow = stray & (away < FELLOW_NEAR * np.maximum(length, self.length))
        rain = stray & (turn < RAIN_DEG) & (self.length < LONGEST_RAIN * length)
        alike = self.keeps & (self.nearest == point) & others & (turn < ALONG_DEG) & (np.abs(apart) > ASIDE_PX)
        clear = min(np.log(self.misses[row, point] / self.doubt_deg[row] / USUAL_DOUBTS), CLEAR)
        return {"strange_around": np.log(0.3 + self.length[around & ~self.keeps].sum() / length),
                "clear_and_in_order": clear * min(in_order), "in_order_on_a_side": max(in_order),
                "companions": min(self._companions(row, point), 2),
                "alike_in_order": np.log1p((alike & (away < ALONG_NEAR * length)).sum()),
                "as_askew": self._run_with(row, self.horizon, fellow), "as_raised": self._run_with(row, self.walls[point], fellow),
                "strays_held": min(int((fellow & self.held).sum()), MOST_STRAYS),
                "strays_loose": min(int((fellow & ~self.held).sum()), MOST_STRAYS), "strays_alike": np.log1p(rain.sum())}

    def _run_with(self, row: int, vanishing_line: np.ndarray | None, fellow: np.ndarray) -> int:
        """How many of the `fellow` lines run to where this one crosses a vanishing line, as edges of one thing do; 3 at most."""
        if vanishing_line is None:
            return 0
        at = cross_of(self.lines[row], vanishing_line)
        runs = misses_deg(self.segments, at[None])[:, 0] <= FELLOW_DEG * np.maximum(1.0, self.doubt_deg)
        return min(int((fellow & runs).sum()), MOST_FELLOWS)

    def _companions(self, row: int, point: int) -> int:
        """How many edges that keep to the point lie beside it and are about as long."""
        share, along = self.length / self.length[row], self.along[row]
        rows = np.flatnonzero(self.keeps & (self.nearest == point) & (share >= ALIKE_LENGTHS[0]) & (share <= ALIKE_LENGTHS[1]))
        place = np.sort((self.segments[rows].reshape(-1, 2, 2) - self.segments[row, :2]) @ along, axis=1)
        beside = np.minimum(place[:, 1], self.length[row]) - np.maximum(place[:, 0], 0)
        return int(((beside >= OVERLAP * self.length[row]) & (rows != row)).sum())

    def _of_slope(self, row: int, point: int) -> dict[str, float]:
        """As a slope that rises in an upright wall along one of the level directions, and as one of a gable's two."""
        other = self.rise_deg[[i for i, k in enumerate(self.level) if k != point]]
        ends = self.segments.reshape(-1, 2, 2)
        top = ends[row, ends[row, :, 1].argmin()]
        meets = self.straight & ~self.keeps & (np.hypot(*(ends - top).T).min(0) < GABLE_SHARE * self.diagonal_px)
        meets[row] = False
        gable = (np.abs(other[:, meets] + other[:, [row]]) < GABLE_DEG) & (np.abs(other[:, meets]) > GABLE_LEAST_DEG)
        return {"has_gable": float(gable.any()), "slopes_in_a_row": float(self.slopes[row])}


def _darkness(depths: np.ndarray, usual: float) -> np.ndarray:
    return np.minimum(np.log(np.maximum(depths, LEAST_DEPTH) / max(usual, LEAST_DEPTH)), 0)


def rises_deg(lines: np.ndarray, levels: list[np.ndarray], upright: np.ndarray, camera: Camera) -> np.ndarray:
    """(K, N) degrees, -90 to 90, by which each of `lines` (N, 3) rises over each level direction, were it drawn in an upright wall
    along it: its vanishing point is where it crosses the wall's vanishing line. Directions by their homogeneous points (3,)."""
    rays, found = np.linalg.inv(camera.K), np.zeros((len(levels), len(lines)))
    for k, level in enumerate(levels):
        along, up = rays @ level, rays @ upright
        along = along / np.linalg.norm(along)
        up = up - along * (along @ up)
        direction = np.cross(lines, np.cross(level, upright)) @ rays.T
        found[k] = (np.degrees(np.arctan2(direction @ (up / np.linalg.norm(up)), direction @ along)) + 90) % 180 - 90
    return found
