"""Whether drawn objects have a perspective of their own: turned against the rest, or hung on another eye level.

Two numbers are fitted to the edges of an object that miss the picture's points: its turn about the upright, and the shift of its
eye level. Whichever of them alone explains the edges as well as both is what is wrong with it; where it takes both, nothing is
said. An eye level is one for a whole picture: what several objects say of another one counts together.
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
# Of a shift that several objects share: nats in all, what each has to add before it counts, and from what on it is one of them.
LEAST_SHARED_GAIN, OBJECT_COSTS, LEAST_OF_OBJECT = 8.0, 1.0, 2.0
FEWEST_SHARED, MOSTLY_SHARED = 3, 0.6  # edges in all; of an object's edges that miss


@dataclass(frozen=True)
class OwnPerspective:
    """`turn_deg` about the upright or `shift_px` of the eye level (+ lower), the other is 0; `interval` low and high of that one.

    `explained` names the edges that it explains, in the order they were given, and `misses` by how many of its own doubts each of
    them still misses; `gain` nats over no fault.
    """

    turn_deg: float
    shift_px: float
    interval: tuple[float, float]
    explained: np.ndarray
    gain: float
    misses: np.ndarray


class ObjectFit:
    """How well the edges (E, 4) px of one object, and perhaps some of what it stands on, fit each turn and each shift; their
    directions are in doubt by `doubt_deg` (E,).

    `gain` (T, S) nats over no turn and no shift; `misses` (T, S, E) in each edge's own doubts.
    """

    def __init__(self, edges: np.ndarray, camera: Camera, height_px: float, doubt_deg: np.ndarray) -> None:
        self.height_px = height_px
        turn, shift = (grid.ravel() for grid in np.meshgrid(TURNS_DEG, SHIFTS * height_px, indexing="ij"))
        doubt = np.radians(np.maximum(doubt_deg, LEAST_DOUBT_DEG))
        misses = _misses(edges, level_points(camera, turn, shift)).min(1) / doubt
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

    def turned(self) -> OwnPerspective | None:
        """The turn that alone explains the edges best; None where it explains hardly more than none."""
        alone = self.gain[:, NO_SHIFT]
        at = int(alone.argmax())
        likely, explained = TURNS_DEG[alone > alone[at] - SLACK], self.explained(at, NO_SHIFT)
        gain = float(alone[at] - np.log(np.sqrt(len(TURNS_DEG))))
        if at == NO_TURN or gain < LEAST_GAIN or len(explained) < FEWEST_EDGES:
            return None
        return OwnPerspective(float(TURNS_DEG[at]), 0.0, (float(likely.min()), float(likely.max())), explained, gain,
                              self.misses[at, NO_SHIFT][explained])

    def explained(self, turn: int, shift: int) -> np.ndarray:
        return np.flatnonzero(self.missed & (self.misses[turn, shift] < WELL_EXPLAINED))

    def speaks_for_shift(self) -> np.ndarray:
        """(S,) nats for each shift, above what an object has to add before it counts; 0 where a turn, or both, tell more."""
        alone = self.gain[NO_TURN]
        return np.where(alone >= self.gain.max() - SLACK, np.maximum(alone - OBJECT_COSTS, 0), 0)


def shared_shift(objects: Sequence[ObjectFit], rows: Sequence[np.ndarray]) -> OwnPerspective | None:
    """The other eye level on which objects agree; `rows` names the edges of each. None where they show none, or nothing sure."""
    if not objects:
        return None
    gains = np.array([fit.speaks_for_shift() for fit in objects])
    total = gains.sum(0)
    at = int(total.argmax())
    likely = SHIFTS[total > total[at] - SLACK]
    if total[at] < LEAST_SHARED_GAIN or likely.min() * likely.max() <= 0:
        return None
    explained = [own[fit.explained(NO_TURN, at)] for fit, own, gain in zip(objects, rows, gains[:, at], strict=True)
                 if gain >= LEAST_OF_OBJECT and len(fit.explained(NO_TURN, at)) >= MOSTLY_SHARED * fit.missed.sum()]
    edges = np.unique(np.concatenate([np.zeros(0, int), *explained]))
    if len(edges) < FEWEST_SHARED:
        return None
    height_px = objects[0].height_px
    interval = float(likely.min() * height_px), float(likely.max() * height_px)
    return OwnPerspective(0.0, float(SHIFTS[at] * height_px), interval, edges, float(total[at]), np.zeros(0))


def level_points(camera: Camera, turn_deg: np.ndarray, shift_px: np.ndarray) -> np.ndarray:
    """(C, 2, 3) the two level vanishing points of an object so turned, under an eye level so shifted (+ lower)."""
    right, towards = camera.R_world_to_camera[:, 0], camera.R_world_to_camera[:, 2]
    cos, sin = np.cos(np.radians(turn_deg))[:, None], np.sin(np.radians(turn_deg))[:, None]
    directions = np.stack([cos * right + sin * towards, cos * towards - sin * right], axis=1)
    points = directions @ camera.K.T
    points[..., :2] += points[..., 2:] * shift_px[:, None, None] * camera.horizon()[:2]
    return points


def _misses(edges: np.ndarray, points: np.ndarray) -> np.ndarray:
    """(C, 2, E) radians between each edge and its ray to each point, 0 to a right angle."""
    middle, along = (edges[:, :2] + edges[:, 2:]) / 2, edges[:, 2:] - edges[:, :2]
    ray = points[..., None, :2] - points[..., None, 2:] * middle
    cross = along[:, 0] * ray[..., 1] - along[:, 1] * ray[..., 0]
    return np.arctan2(np.abs(cross), np.abs((along * ray).sum(-1)))
