"""From a bundle of segments to the one camera, and the kind of picture, that explains it best."""

from dataclasses import dataclass

import numpy as np

from board.vision.perspective_refine import CameraPrior, RefinedCameras, nearer_cameras, refine_cameras
from board.vision.segment_bundle import SegmentBundle
from board.vision.vanishing_hypotheses import CameraPool, pool_of_cameras
from board.vision.vanishing_likelihood import DirectionNoise, likelihood_ratios, log_ratios, ratios_of_sines, squared_sines

HANDS_RAD = np.radians([0.15, 0.4, 0.8, 1.6])  # from a photograph or a ruler to a loose pencil
ENDS_PX = (0.05, 0.3, 0.6, 1.0)  # the first for lines that are exact
RULED = DirectionNoise(HANDS_RAD[0], 0.3)  # of a render or a photograph, in which no hand drew
# The first rounds look from far, so that a coarse start is pulled in.
FIRST_WIDENINGS_RAD, WIDENINGS_RAD = np.radians([2.0, 1.0]), np.radians([1.0, 0.5])
EARLY_ROUNDS, LATER_ROUNDS, LAST_ROUNDS = 3, 4, 4
LEADING = 400  # the coarse search looks at no more segments
KEPT_OF_A_KIND = (4, 6, 20)  # of frontal, level and tilted cameras
NEARED_OF_A_KIND = (2, 3, 7)
FINISHED_OF_A_KIND = (1, 2, 3)
LOOKED_AT = 120
CAMERAS_AT_ONCE = 128  # their numbers stay in the processor's own memory
ALIKE = np.cos(np.radians(4.0))
POOL_SHARES = np.array([0.4, 0.2, 0.2, 0.2])


@dataclass(frozen=True)
class ChosenCamera:
    """`cameras` holds one camera; `kind` indexes KINDS; `noise` as measured in this picture; `spread` (N,) radians;
    `over_frontal` nats of evidence by which it is preferred to looking straight at a wall."""

    refined: RefinedCameras
    kind: int
    noise: DirectionNoise
    spread: np.ndarray
    over_frontal: float

    @property
    def points(self) -> np.ndarray:
        """(3, 3) homogeneous points of the axes level, upright, level; picture units."""
        return self.refined.cameras.points()[0]


def search_cameras(bundle: SegmentBundle, prior: CameraPrior | None = None,
                   known_noise: DirectionNoise | None = None) -> ChosenCamera:
    prior = prior or CameraPrior()
    leading = bundle.most_telling(LEADING)
    wide = DirectionNoise(np.radians(1.0)).spread(leading)
    start, kinds = _best_of_each_kind(pool_of_cameras(leading, wide, prior.horizon), leading, wide)
    near = refine_cameras(start, kinds, leading, [np.hypot(wide, w) for w in FIRST_WIDENINGS_RAD], prior)
    rows = _best_of_kinds(near.evidence, kinds, NEARED_OF_A_KIND)
    kinds = kinds[rows]
    cameras, shares = nearer_cameras(near.cameras.subset(rows), kinds, leading, [np.hypot(wide, w) for w in WIDENINGS_RAD], prior,
                                     near.shares[rows])
    noise = known_noise or _noise_of_the_hand(cameras, shares, leading)
    near = refine_cameras(cameras, kinds, leading, [noise.spread(leading)] * EARLY_ROUNDS, prior, shares)
    rows = _best_of_kinds(near.evidence, kinds, FINISHED_OF_A_KIND)
    spread = noise.spread(bundle)
    final = refine_cameras(near.cameras.subset(rows), kinds[rows], bundle, [spread] * LATER_ROUNDS, prior, near.shares[rows])
    best = np.array([np.argmax(final.evidence)])
    kind = kinds[rows][best]
    last = refine_cameras(final.cameras.subset(best), kind, bundle, [spread] * LAST_ROUNDS, prior, final.shares[best])
    frontal = final.evidence[kinds[rows] == 0].max(initial=-np.inf)
    return ChosenCamera(last, int(kind[0]), noise, spread, float(final.evidence[best[0]] - frontal))


def _best_of_kinds(evidence: np.ndarray, kinds: np.ndarray, counts: tuple[int, ...]) -> np.ndarray:
    """Rows of the best cameras of each kind, so many of each."""
    order = np.argsort(-evidence, kind="stable")
    return np.concatenate([order[kinds[order] == kind][:count] for kind, count in enumerate(counts)])


def _best_of_each_kind(pool: CameraPool, bundle: SegmentBundle, wide: np.ndarray) -> tuple[CameraPool, np.ndarray]:
    points, spread = pool.points(), np.hypot(wide, np.radians(1.0))
    some = (points[at : at + CAMERAS_AT_ONCE] for at in range(0, len(pool), CAMERAS_AT_ONCE))
    score = np.concatenate([_scores(each, bundle, spread) for each in some])
    level = np.abs(pool.rotation[:, 2, 1]) < 1e-9
    frontal = level & (np.abs(pool.rotation[:, 2, 0]) < 1e-9)
    rows = [_best_apart(pool, np.where(fits, score, -np.inf), count)
            for fits, count in zip((frontal, level, np.ones(len(pool), bool)), KEPT_OF_A_KIND, strict=True)]
    return pool.subset(np.concatenate(rows)), np.repeat(np.arange(3), [len(r) for r in rows])


def _scores(points: np.ndarray, bundle: SegmentBundle, spread: np.ndarray) -> np.ndarray:
    """(B,) how well cameras with vanishing points (B, 3, 3) explain the segments."""
    return log_ratios(likelihood_ratios(points, bundle, spread), np.tile(POOL_SHARES, (len(points), 1))) @ bundle.weight


def _best_apart(pool: CameraPool, score: np.ndarray, count: int) -> np.ndarray:
    """Rows of the best cameras whose points are not all where a better one's are."""
    order = np.argsort(-score, kind="stable")[:LOOKED_AT]
    points = pool.subset(order).points()
    points /= np.linalg.norm(points, axis=2, keepdims=True)
    left, kept = np.isfinite(score[order]), list[int]()
    while left.any() and len(kept) < count:
        best = int(left.argmax())
        kept.append(best)
        left &= _likeness(points, points[best]) < ALIKE
        left[best] = False
    return order[kept]


def _likeness(points: np.ndarray, other: np.ndarray) -> np.ndarray:
    """(B,) of cameras with unit points (B, 3, 3): cosine of the least like of three, each with its nearest of `other` (3, 3)."""
    return np.abs(points @ other.T).max(2).min(1)


def _noise_of_the_hand(cameras: CameraPool, shares: np.ndarray, bundle: SegmentBundle) -> DirectionNoise:
    """The noise under which the best of the cameras found, with their shares (B, 4), explains the segments best."""
    noises = [DirectionNoise(angle, ends) for angle in HANDS_RAD for ends in ENDS_PX]
    bundle = bundle.subset(np.flatnonzero(~bundle.is_given))
    squared = squared_sines(cameras.points(), bundle)
    fits = [(log_ratios(ratios_of_sines(squared, noise.spread(bundle)), shares) @ bundle.weight).max()
            for noise in noises]
    return noises[int(np.argmax(fits))]
