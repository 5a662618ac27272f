"""A pool of cameras that might have seen the segments: first the upright, then the eye level, then the level directions along it.

The pool is a grid, not a random sample, so the same segments always give the same answer. It need only come near: what follows
refines the best of it.
"""

from dataclasses import dataclass

import numpy as np

from board.vision.segment_bundle import SegmentBundle
from board.vision.vanishing_likelihood import T3_PEAK_OVER_EVEN, likelihood_ratios

ROLLS_RAD = np.radians(np.arange(-30, 31, 3.0))
# One over the distance, in picture units, from the principal point to the upright vanishing point; + looks down.
UPRIGHT_CLOSENESS = np.array([0, 0.1, -0.1, 0.2, -0.2, 0.35, -0.35, 0.5, -0.5, 0.75, -0.75, 1.0, -1.0, 1.4, -1.4])
STEEP_SINE = np.sin(np.radians(50))
LEVEL_UPRIGHTS = ((0.0, 0.0), (0.0, 0.3), (0.0, -0.3))  # also looked at where no upright is seen
MOST_UPRIGHTS = 8
FOCALS = np.array([0.5, 0.6, 0.7, 0.85, 1.0, 1.2, 1.4, 1.7, 2.0, 2.4, 2.8])  # picture units
EYE_LEVEL_OFFSETS = np.array([-0.4, -0.25, -0.12, 0.12, 0.25, 0.4])  # of a cropped picture with parallel uprights
CROPPED_FOCALS = (0.7, 1.4, 2.8)
FRONTAL_FOCALS = (0.7, 1.0)  # any will do: they only spread the bins along the eye level
PEAKS = 3
YAW_BINS = 90  # over half a turn
SURE_YAW_RAD = np.radians(2.0)


@dataclass(frozen=True)
class CameraPool:
    """B cameras in picture units: `rotation` (B, 3, 3) with columns level, down, level; `focal` (B,); `principal` (B, 2)."""

    rotation: np.ndarray
    focal: np.ndarray
    principal: np.ndarray

    def __len__(self) -> int:
        return len(self.focal)

    def points(self) -> np.ndarray:
        """(B, 3, 3): [b, k] the homogeneous vanishing point of axis k."""
        return vanishing_points_of(self.rotation, self.focal, self.principal)

    def subset(self, rows: np.ndarray) -> "CameraPool":
        return CameraPool(self.rotation[rows], self.focal[rows], self.principal[rows])

    def joined(self, other: "CameraPool") -> "CameraPool":
        return CameraPool(np.concatenate([self.rotation, other.rotation]), np.concatenate([self.focal, other.focal]),
                          np.concatenate([self.principal, other.principal]))


def vanishing_points_of(rotation: np.ndarray, focal: np.ndarray, principal: np.ndarray) -> np.ndarray:
    """(B, 3, 3) homogeneous points, one row an axis, of cameras `rotation` (B, 3, 3), `focal` (B,), `principal` (B, 2)."""
    axes = np.swapaxes(rotation, 1, 2)
    depth = axes[..., 2:]
    return np.concatenate([focal[:, None, None] * axes[..., :2] + depth * principal[:, None, :], depth], axis=2)


def upright_candidates(bundle: SegmentBundle, spread: np.ndarray) -> np.ndarray:
    """(U, 2) roll and closeness of the likeliest upright points, with the principal point at the picture's centre."""
    rows = np.flatnonzero(np.abs(bundle.normal[:, 1]) < STEEP_SINE)
    if not len(rows):
        return np.array(LEVEL_UPRIGHTS)
    steep, wide = bundle.subset(rows), np.hypot(spread[rows], np.radians(1.5))
    roll, closeness = (grid.ravel() for grid in np.meshgrid(ROLLS_RAD, UPRIGHT_CLOSENESS, indexing="ij"))
    points = np.stack([np.sin(roll), np.cos(roll), closeness], axis=1)
    score = np.log(0.7 + 0.3 * likelihood_ratios(points, steep, wide)) @ steep.weight
    score -= 0.5 * (roll / np.radians(8)) ** 2
    kept: list[int] = []
    for at in np.argsort(-score, kind="stable"):
        apart = [abs(roll[at] - roll[k]) / np.radians(5) + abs(closeness[at] - closeness[k]) / 0.25 for k in kept]
        if not kept or min(apart) > 1:
            kept.append(int(at))
        if len(kept) == MOST_UPRIGHTS:
            break
    near = np.stack([roll[kept], closeness[kept]], axis=1)
    return np.vstack([_refined_uprights(near, steep, spread[rows]), LEVEL_UPRIGHTS])


def _refined_uprights(uprights: np.ndarray, steep: SegmentBundle, spread: np.ndarray) -> np.ndarray:
    """`uprights` (U, 2) moved to where the steep segments near them meet."""
    for widening in np.radians([1.5, 1.0, 0.5]):
        wide = np.hypot(spread, widening)
        roll, closeness = uprights.T
        points = np.stack([np.sin(roll), np.cos(roll), closeness], axis=1)
        sine, slope = point_gradients(points[None], steep)
        ratio = likelihood_ratios(points, steep, wide)
        trust = steep.weight * 0.3 * ratio / (0.7 + 0.3 * ratio) / (wide**2 + sine[0] ** 2 / 3)
        by_roll = np.cos(roll)[:, None] * slope[0, :, 0] - np.sin(roll)[:, None] * slope[0, :, 1]
        jacobian = np.stack([by_roll, slope[0, :, 2]], axis=2)
        information = np.swapaxes(jacobian * trust[..., None], 1, 2) @ jacobian + np.diag([100.0, 4.0])
        pull = np.swapaxes(jacobian * trust[..., None], 1, 2) @ sine[0][..., None]
        uprights = uprights - np.linalg.solve(information, pull)[..., 0]
    return np.clip(uprights, [-0.8, -1.6], [0.8, 1.6])


def point_gradients(points: np.ndarray, bundle: SegmentBundle) -> tuple[np.ndarray, np.ndarray]:
    """Sine (B, K, N) of each segment against each point (B, K, 3), and its gradient by the point's coordinates (B, K, 3, N)."""
    x, y, w = (points[..., k, None] for k in range(3))
    (middle_x, middle_y), (normal_x, normal_y) = bundle.middle.T, bundle.normal.T
    ray_x, ray_y = x - w * middle_x, y - w * middle_y
    nearness = 1 / np.maximum(np.sqrt(ray_x * ray_x + ray_y * ray_y), 1e-6)
    sine = points @ bundle.line.T * nearness
    slope = np.empty((*points.shape, len(bundle)))
    by_x, by_y = slope[..., 0, :], slope[..., 1, :]
    turning = sine * nearness
    by_x[...] = (normal_x - turning * ray_x) * nearness
    by_y[...] = (normal_y - turning * ray_y) * nearness
    slope[..., 2, :] = -by_x * middle_x - by_y * middle_y
    return sine, slope


def level_frames(roll: np.ndarray, closeness: np.ndarray, focal: np.ndarray) -> np.ndarray:
    """(B, 3, 3) rotations whose second column is the downward direction and whose third looks ahead as nearly as it can."""
    down = np.stack([np.sin(roll), np.cos(roll), closeness * focal], axis=1)
    down /= np.linalg.norm(down, axis=1, keepdims=True)
    ahead = np.array([0, 0, 1.0]) - down[:, 2:] * down
    ahead /= np.linalg.norm(ahead, axis=1, keepdims=True)
    return np.stack([np.cross(down, ahead), down, ahead], axis=2)


def yaw_votes(pool: CameraPool, bundle: SegmentBundle, spread: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Where each segment meets each camera's eye level, as a yaw (B, N) in [0, pi), and the weight (B, N) of that vote."""
    focal, principal, depth = pool.focal[:, None], pool.principal, pool.rotation[:, 2, 2, None]
    side, front = pool.rotation[:, :2, 0], pool.rotation[:, :2, 2]
    # The segment's plane against the camera's two level axes; the first of them lies in the picture's plane.
    right = focal * (side @ bundle.normal.T)
    ahead = focal * (front @ bundle.normal.T) + depth * (principal @ bundle.normal.T + bundle.line[:, 2])
    slant = np.maximum(np.sqrt(right * right + ahead * ahead), 1e-12)
    sin, cos = -ahead / slant, right / slant
    away = cos * depth
    across = sin * (side @ bundle.middle.T - (side * principal).sum(1, keepdims=True))
    across += cos * (front @ bundle.middle.T - (front * principal).sum(1, keepdims=True))
    reach = (bundle.middle**2).sum(1) - 2 * principal @ bundle.middle.T + (principal**2).sum(1, keepdims=True)
    ray = np.sqrt(np.maximum(focal**2 * (1 - away**2) - 2 * focal * away * across + away**2 * reach, 0))
    blur = spread * ray / slant
    information = bundle.weight * np.log1p(T3_PEAK_OVER_EVEN / spread)
    upright = likelihood_ratios(pool.points()[:, 1], bundle, np.hypot(spread, np.radians(1.0)))
    return np.arctan2(sin, cos) % np.pi, information * SURE_YAW_RAD / np.sqrt(SURE_YAW_RAD**2 + blur * blur) / (1 + 0.5 * upright)


def yaw_histogram(yaw: np.ndarray, weight: np.ndarray) -> np.ndarray:
    """(B, YAW_BINS) votes over half a turn, smoothed around."""
    cameras = len(yaw)
    bins = np.minimum((yaw * (YAW_BINS / np.pi)).astype(int), YAW_BINS - 1) + np.arange(cameras)[:, None] * YAW_BINS
    votes = np.bincount(bins.ravel(), weight.ravel(), minlength=cameras * YAW_BINS).reshape(cameras, YAW_BINS)
    return 0.5 * votes + 0.25 * (np.roll(votes, -1, axis=1) + np.roll(votes, 1, axis=1))


def highest_peaks(votes: np.ndarray, count: int) -> np.ndarray:
    """(B, count) bins of the highest local maxima around each row."""
    peak = (votes >= np.roll(votes, 1, axis=1)) & (votes > np.roll(votes, -1, axis=1))
    return np.argsort(-np.where(peak, votes, -1.0), axis=1, kind="stable")[:, :count]


def turned(frames: np.ndarray, yaw: np.ndarray) -> np.ndarray:
    """`frames` (B, 3, 3) turned about their downward axis so that the third column looks along `yaw` (B,)."""
    cos, sin = np.cos(yaw)[:, None], np.sin(yaw)[:, None]
    right, down, ahead = frames[..., 0], frames[..., 1], frames[..., 2]
    return np.stack([cos * right - sin * ahead, down, sin * right + cos * ahead], axis=2)


def pool_of_cameras(bundle: SegmentBundle, spread: np.ndarray, horizon: np.ndarray | None = None) -> CameraPool:
    """The cameras worth scoring: for each upright and focal length, the best yaws of a right-angled world.

    `horizon` (3,) in picture units is taken as so, where a person gave it.
    """
    base = _frames_at_uprights(upright_candidates(bundle, spread)) if horizon is None else _frames_at_horizon(horizon)
    votes = yaw_histogram(*yaw_votes(base, bundle, spread))
    half = YAW_BINS // 2
    peaks = highest_peaks(votes[:, :half] + votes[:, half:], PEAKS)
    crossed = base.subset(np.repeat(np.arange(len(base)), PEAKS))
    yaw = (peaks.ravel() + 0.5) * np.pi / YAW_BINS
    return CameraPool(turned(crossed.rotation, yaw), crossed.focal, crossed.principal).joined(_frontal_cameras(base, votes))


def _frames_at_uprights(uprights: np.ndarray) -> CameraPool:
    """Cameras without a yaw yet, one for each upright (U, 2) and focal length; parallel uprights also in cropped pictures."""
    roll, closeness = np.repeat(uprights, len(FOCALS), axis=0).T
    focal = np.tile(FOCALS, len(uprights))
    parallel = np.unique(np.append(uprights[np.abs(uprights[:, 1]) < 0.08, 0][:2], 0.0))
    extra = np.array([(r, f, offset) for r in parallel for f in CROPPED_FOCALS for offset in EYE_LEVEL_OFFSETS]).T
    principal = np.zeros((len(focal) + extra.shape[1], 2))
    principal[len(focal):, 1] = extra[2]
    roll, focal = np.concatenate([roll, extra[0]]), np.concatenate([focal, extra[1]])
    closeness = np.concatenate([closeness, np.zeros(extra.shape[1])])
    return CameraPool(level_frames(roll, closeness, focal), focal, principal)


def _frames_at_horizon(horizon: np.ndarray) -> CameraPool:
    """Cameras without a yaw yet that see the eye level at `horizon` (a, b, c), tilted towards it or cropped."""
    a, b, c = horizon
    focal = np.concatenate([FOCALS, FOCALS])
    tilted = np.repeat([1.0, 0.0], len(FOCALS))
    principal = (tilted - 1)[:, None] * c * horizon[:2]
    return CameraPool(level_frames(np.full(len(focal), np.arctan2(a, b)), tilted * c / focal**2, focal), focal, principal)


def _frontal_cameras(base: CameraPool, votes: np.ndarray) -> CameraPool:
    """Cameras that look straight at a wall: the principal point stands in the one finite level point."""
    level = np.flatnonzero((np.abs(base.rotation[:, 2, 1]) < 1e-9) & (np.isin(base.focal, FRONTAL_FOCALS)))
    peaks = highest_peaks(votes[level], 3)
    rows = np.repeat(level, 3)
    tangent = np.tan((peaks.ravel() + 0.5) * np.pi / YAW_BINS)
    ok = np.abs(base.focal[rows] * tangent) < 1.5
    rows, tangent = rows[ok], tangent[ok]
    along = base.rotation[rows, :2, 0]
    return CameraPool(base.rotation[rows], base.focal[rows], base.principal[rows] + (base.focal[rows] * tangent)[:, None] * along)
