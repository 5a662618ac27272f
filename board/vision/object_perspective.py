"""Whether drawn objects have a perspective of their own: turned against the rest, or hung on another eye level.

Two numbers are fitted to the edges of an object that miss the picture's points: its turn about the upright, and the shift of its
eye level. Whichever of them alone explains the edges about as well as both is what may be wrong with it. An eye level is one for a
whole picture: what several objects say of another one counts together.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from board.vision.camera import Camera

TURNS_DEG = np.linspace(-14, 14, 29)
SHIFTS = np.arange(-25, 26) / 50  # shares of the picture's height
NO_TURN, NO_SHIFT = len(TURNS_DEG) // 2, len(SHIFTS) // 2
SLACK = 2.0  # nats: explanations this near to each other are as good
OUTLIER_SHARE = 0.02
FEWEST_EDGES = 2
LEAST_GAIN = 1.0  # nats over no turn, after the cost of a parameter: less is not looked at
WELL_EXPLAINED = 2.5  # doubts
LEAST_DOUBT_DEG = 0.6
# Of a shift that several objects share, nats: what each has to add before it counts, from what on it is one of them, how much
# better a turn of its own may explain it, and in all, below which it is not looked at.
OBJECT_COSTS, LEAST_OF_OBJECT, SHARED_SLACK, LEAST_SHARED_GAIN = 1.0, 1.0, 4.0, 2.0


@dataclass(frozen=True)
class OwnTurn:
    """`turn_deg` about the upright, `interval` low and high. `explained` names the edges that it explains, in the order they were
    given, and `misses` by how many of its own doubts each of them still misses; `gain` nats over no fault."""

    turn_deg: float
    interval: tuple[float, float]
    explained: np.ndarray
    misses: np.ndarray
    gain: float


@dataclass(frozen=True)
class OtherEyeLevel:
    """`shift_px` below the picture's own. `explained` names the edges that it explains, `gain` nats over no fault, and `turn_gain`
    nats that turns of their own would bring their objects beyond it."""

    shift_px: float
    explained: np.ndarray
    gain: float
    turn_gain: float


class ObjectFit:
    """How well the edges (E, 4) px of one object, and perhaps some of what it stands on, fit each turn and each shift, of which
    `points` are the `possible_points`; their directions are in doubt by `doubt_deg` (E,).

    `gain` (T, S) nats over no turn and no shift; `misses` (T, S, E) in each edge's own doubts.
    """

    def __init__(self, edges: np.ndarray, points: np.ndarray, height_px: float, doubt_deg: np.ndarray) -> None:
        self.height_px = height_px
        doubt = np.radians(np.maximum(doubt_deg, LEAST_DOUBT_DEG))
        misses = _misses(edges, points) / doubt
        self.misses = misses.reshape(len(TURNS_DEG), len(SHIFTS), len(edges))
        fits = 1 / (1 + self.misses**2 / 3) ** 2
        mixed = OUTLIER_SHARE + (1 - OUTLIER_SHARE) / 2 * (fits + fits[NO_TURN, NO_SHIFT])
        likelihood = np.log(mixed).sum(-1)
        self.gain = likelihood - likelihood[NO_TURN, NO_SHIFT]
        self.missed = self.misses[NO_TURN, NO_SHIFT] > WELL_EXPLAINED

    @property
    def most_by_shift(self) -> float:
        """Nats that another eye level alone brings at most."""
        return float(self.gain[NO_TURN].max())

    def turned(self) -> OwnTurn | None:
        """The turn that alone explains the edges best; None where it explains hardly more than none."""
        alone = self.gain[:, NO_SHIFT]
        at = int(alone.argmax())
        likely, explained = TURNS_DEG[alone > alone[at] - SLACK], self.explained(at, NO_SHIFT)
        gain = float(alone[at] - np.log(np.sqrt(len(TURNS_DEG))))
        if at == NO_TURN or gain < LEAST_GAIN or len(explained) < FEWEST_EDGES:
            return None
        return OwnTurn(float(TURNS_DEG[at]), (float(likely.min()), float(likely.max())), explained,
                       self.misses[at, NO_SHIFT][explained], gain)

    def explained(self, turn: int, shift: int) -> np.ndarray:
        return np.flatnonzero(self.missed & (self.misses[turn, shift] < WELL_EXPLAINED))

    def speaks_for_shift(self) -> np.ndarray:
        """(S,) nats for each shift, above what an object has to add before it counts; 0 where a turn, or both, tell much more."""
        alone = self.gain[NO_TURN]
        return np.where(alone >= self.gain.max() - SHARED_SLACK, np.maximum(alone - OBJECT_COSTS, 0), 0)

    def turn_beyond(self, shift: int) -> float:
        """Nats that a turn alone brings beyond that shift alone."""
        return max(float(self.gain[:, NO_SHIFT].max() - self.gain[NO_TURN, shift]), 0.0)


def shared_shift(objects: Sequence[ObjectFit], rows: Sequence[np.ndarray], least_px: float) -> OtherEyeLevel | None:
    """The other eye level, `least_px` or more from the picture's own, on which objects agree best; `rows` names the edges of each.
    None where hardly anything speaks for one."""
    if not objects:
        return None
    height_px = objects[0].height_px
    gains = np.array([fit.speaks_for_shift() for fit in objects])
    total = np.where(np.abs(SHIFTS) * height_px >= least_px, gains.sum(0), 0)
    at = int(total.argmax())
    agree = [(own[fit.explained(NO_TURN, at)], fit.turn_beyond(at))
             for fit, own, gain in zip(objects, rows, gains[:, at], strict=True) if gain > LEAST_OF_OBJECT]
    edges = np.unique(np.concatenate([np.zeros(0, int), *(explained for explained, _ in agree)]))
    if total[at] < LEAST_SHARED_GAIN or len(edges) < FEWEST_EDGES:
        return None
    return OtherEyeLevel(float(SHIFTS[at] * height_px), edges, float(total[at]), sum(turn for _, turn in agree))


def possible_points(camera: Camera, height_px: float) -> np.ndarray:
    """(T·S, 2, 3) the level vanishing points of an object at each turn and shift that is tried, in a picture so high."""
    turn, shift = (grid.ravel() for grid in np.meshgrid(TURNS_DEG, SHIFTS * height_px, indexing="ij"))
    return level_points(camera, turn, shift)


def level_points(camera: Camera, turn_deg: np.ndarray, shift_px: np.ndarray) -> np.ndarray:
    """(C, 2, 3) the two level vanishing points of an object so turned, under an eye level so shifted (+ lower)."""
    right, towards = camera.R_world_to_camera[:, 0], camera.R_world_to_camera[:, 2]
    cos, sin = np.cos(np.radians(turn_deg))[:, None], np.sin(np.radians(turn_deg))[:, None]
    directions = np.stack([cos * right + sin * towards, cos * towards - sin * right], axis=1)
    points = directions @ camera.K.T
    points[..., :2] += points[..., 2:] * shift_px[:, None, None] * camera.horizon()[:2]
    return points


def _misses(edges: np.ndarray, points: np.ndarray) -> np.ndarray:
    """(C, E) radians between each edge and its ray to the nearer of two points (C, 2, 3), 0 to a right angle."""
    (middle_x, middle_y), (along_x, along_y) = ((edges[:, :2] + edges[:, 2:]) / 2).T, (edges[:, 2:] - edges[:, :2]).T
    x, y, w = (points[..., k, None] for k in range(3))
    ray_x, ray_y = x - w * middle_x, y - w * middle_y
    across, along = np.abs(along_x * ray_y - along_y * ray_x), np.abs(along_x * ray_x + along_y * ray_y)
    # By their tangents, so that half as many angles are reckoned.
    second_is_nearer = across[:, 1] * along[:, 0] < across[:, 0] * along[:, 1]
    return np.arctan2(*(np.where(second_is_nearer, part[:, 1], part[:, 0]) for part in (across, along)))
