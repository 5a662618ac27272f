"""Whether one drawn object has a perspective of its own: turned against the rest, or hung on another eye level.

Two numbers are fitted to the edges of an object that miss the picture's points: its turn about the upright, and the shift of its
eye level. Whichever of them alone explains the edges as well as both is what is wrong with it; where it takes both, nothing is
said.
"""

from dataclasses import dataclass

import numpy as np

from board.vision.camera import Camera

TURNS_DEG = np.linspace(-14, 14, 29)
SHIFTS = np.arange(-25, 26) / 50  # shares of the picture's height
SLACK = 2.0  # nats: explanations this near to each other are as good
OUTLIER_SHARE = 0.02
FEWEST_EDGES = 3
LEAST_GAIN = 6.0  # nats over no turn and no shift, after the cost of a parameter
WELL_EXPLAINED = 2.5  # spreads
MOSTLY = 0.75  # of the edges that miss
LEAST_NOISE_DEG = 0.6


@dataclass(frozen=True)
class OwnPerspective:
    """`turn_deg` about the upright or `shift_px` of the eye level (+ lower), the other is 0; `interval` low and high of that one.

    `explained` (E,) which of the object's edges it explains; `gain` nats over no fault.
    """

    turn_deg: float
    shift_px: float
    interval: tuple[float, float]
    explained: np.ndarray
    gain: float


def fit_own_perspective(edges: np.ndarray, camera: Camera, height_px: float, noise_deg: float) -> OwnPerspective | None:
    """`edges` (E, 4) px, the level ones of one object and perhaps some of what it stands on, which keeps the picture's perspective.

    None where they show nothing of the kind, or nothing sure.
    """
    if len(edges) < FEWEST_EDGES:
        return None
    turn, shift = (grid.ravel() for grid in np.meshgrid(TURNS_DEG, SHIFTS * height_px, indexing="ij"))
    half_px = np.hypot(edges[:, 2] - edges[:, 0], edges[:, 3] - edges[:, 1]) / 2
    spread = np.hypot(np.radians(max(noise_deg, LEAST_NOISE_DEG)), 0.8 / half_px)
    misses = _misses(edges, level_points(camera, turn, shift)).min(1) / spread
    fits = 1 / (1 + misses**2 / 3) ** 2
    unmoved = int(np.flatnonzero((turn == 0) & (np.abs(shift) < 1e-9))[0])
    likelihood = np.log(OUTLIER_SHARE + (1 - OUTLIER_SHARE) / 2 * (fits + fits[unmoved])).sum(1)
    for other_is_zero, value in ((np.abs(shift) < 1e-9, turn), (turn == 0, shift)):
        alone = np.where(other_is_zero, likelihood, -np.inf)
        at = int(alone.argmax())
        if value[at] == 0 or alone[at] < likelihood.max() - SLACK:
            continue
        likely = value[alone > alone[at] - SLACK]
        gain = float(alone[at] - likelihood[unmoved] - np.log(np.sqrt(len(value))))
        missed = misses[unmoved] > WELL_EXPLAINED
        explained = missed & (misses[at] < WELL_EXPLAINED)
        is_sure = gain >= LEAST_GAIN and likely.min() * likely.max() > 0
        if not is_sure or explained.sum() < max(FEWEST_EDGES, MOSTLY * missed.sum()):
            return None
        return OwnPerspective(float(turn[at]), float(shift[at]), (float(likely.min()), float(likely.max())), explained, gain)
    return None


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
