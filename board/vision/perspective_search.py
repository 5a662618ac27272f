"""From a bundle of segments to the one camera, and the kind of picture, that explains it best."""

from dataclasses import dataclass

import numpy as np

from board.vision.perspective_refine import CameraPrior, RefinedCameras, refine_cameras
from board.vision.segment_bundle import SegmentBundle
from board.vision.vanishing_hypotheses import CameraPool, pool_of_cameras
from board.vision.vanishing_likelihood import DirectionNoise, family_shares, likelihood_ratios

HANDS_RAD = np.radians([0.15, 0.4, 0.8, 1.6])  # from a photograph or a ruler to a loose pencil
WIDENINGS_RAD = np.radians([2.0, 1.0, 1.0, 0.5])  # the first rounds look from far, so that a coarse start is pulled in
FINAL_ROUNDS = 8
WEIGHT_OF_A_SEGMENT = 0.5  # segments of one stroke or one hatching are not independent witnesses
KEPT_OF_A_KIND = (3, 5, 8)  # of frontal, level and tilted cameras
LOOKED_AT = 80
ALIKE = np.cos(np.radians(4.0))
POOL_SHARES = np.array([0.4, 0.2, 0.2, 0.2])


@dataclass(frozen=True)
class ChosenCamera:
    """`cameras` holds one camera; `kind` indexes KINDS; `noise` as measured in this picture; `spread` (N,) and `weight` (N,)."""

    refined: RefinedCameras
    kind: int
    noise: DirectionNoise
    spread: np.ndarray
    weight: np.ndarray

    @property
    def points(self) -> np.ndarray:
        """(3, 3) homogeneous points of the axes level, upright, level; picture units."""
        return self.refined.cameras.points()[0]


def search_cameras(bundle: SegmentBundle, prior: CameraPrior | None = None) -> ChosenCamera:
    prior = prior or CameraPrior()
    wide = DirectionNoise(np.radians(1.0)).spread(bundle)
    pool = pool_of_cameras(bundle, wide)
    start, kinds = _best_of_each_kind(pool, bundle, wide)
    weight = WEIGHT_OF_A_SEGMENT * bundle.weight
    near = refine_cameras(start, kinds, bundle, [np.hypot(wide, w) for w in WIDENINGS_RAD], weight, prior)
    noise = _noise_of_the_hand(near, bundle)
    spread = noise.spread(bundle)
    final = refine_cameras(near.cameras, kinds, bundle, [spread] * FINAL_ROUNDS, weight, prior, near.shares)
    best = int(np.argmax(final.evidence))
    return ChosenCamera(final.only(best), int(kinds[best]), noise, spread, weight)


def _best_of_each_kind(pool: CameraPool, bundle: SegmentBundle, wide: np.ndarray) -> tuple[CameraPool, np.ndarray]:
    ratios = likelihood_ratios(pool.points(), bundle, np.hypot(wide, np.radians(1.0)))
    score = family_shares(ratios, np.tile(POOL_SHARES, (len(pool), 1)))[1] @ bundle.weight
    level = np.abs(pool.rotation[:, 2, 1]) < 1e-9
    frontal = level & (np.abs(pool.rotation[:, 2, 0]) < 1e-9)
    rows = [_best_apart(pool, np.where(fits, score, -np.inf), count)
            for fits, count in zip((frontal, level, np.ones(len(pool), bool)), KEPT_OF_A_KIND, strict=True)]
    return pool.subset(np.concatenate(rows)), np.repeat(np.arange(3), [len(r) for r in rows])


def _best_apart(pool: CameraPool, score: np.ndarray, count: int) -> np.ndarray:
    """Rows of the best cameras whose points are not all where a better one's are."""
    order = np.argsort(-score, kind="stable")[:LOOKED_AT]
    points = pool.subset(order).points()
    points /= np.linalg.norm(points, axis=2, keepdims=True)
    kept: list[int] = []
    for i in range(len(order)):
        if np.isfinite(score[order[i]]) and all(_nearest_axes(points[i], points[k]) < ALIKE for k in kept):
            kept.append(i)
        if len(kept) == count:
            break
    return order[kept]


def _nearest_axes(first: np.ndarray, second: np.ndarray) -> float:
    """Cosine of the least like of the three points, each with its nearest."""
    return float(np.abs(first @ second.T).max(1).min())


def _noise_of_the_hand(near: RefinedCameras, bundle: SegmentBundle) -> DirectionNoise:
    """The noise under which the best of the cameras found explains the segments best."""
    noises = [DirectionNoise(angle) for angle in HANDS_RAD]
    points = near.cameras.points()
    fits = [(family_shares(likelihood_ratios(points, bundle, noise.spread(bundle)), near.shares)[1] @ bundle.weight).max() for noise in noises]
    return noises[int(np.argmax(fits))]
