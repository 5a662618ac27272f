"""How likely the directions of segments are under given vanishing points, against directions drawn at random.

A segment of a family points at its vanishing point but for an angle that is spread as Student's t with 3 degrees of freedom
(heavy tails: a slip of the hand, a wrong member); a segment of no family points anywhere. The log of the ratio of the two,
summed over the segments, is a soft score: no count, no hard limit, and long segments weigh more because they are surer.
"""

from dataclasses import dataclass

import numpy as np

from board.vision.segment_bundle import SegmentBundle

# Density of Student's t (3 degrees of freedom) at 0 over that of an angle drawn evenly from half a turn, for a spread of 1 rad.
T3_PEAK_OVER_EVEN = np.pi * 2 / (np.pi * np.sqrt(3))
EXACT_RAD = np.radians(0.1)  # of what a person gave


@dataclass(frozen=True)
class DirectionNoise:
    """Spread of a segment's direction: the hand's own angle, and an error of its ends that matters less the longer it is."""

    angle_rad: float
    ends_px: float = 0.8

    def spread(self, bundle: SegmentBundle) -> np.ndarray:
        """(N,) radians."""
        drawn = np.sqrt(self.angle_rad**2 + (self.ends_px / bundle.half_length_px) ** 2)
        return np.where(bundle.is_given, EXACT_RAD, drawn)


def squared_sines(points: np.ndarray, bundle: SegmentBundle) -> np.ndarray:
    """(…, N) squared sine of the angle between each segment and its ray to each homogeneous point (…, 3)."""
    flat = points.reshape(-1, 3)
    miss = flat @ bundle.line.T
    x, y, w = flat.T
    reach = np.stack([x * x + y * y, -2 * x * w, -2 * y * w, w * w], axis=1) @ bundle.moments
    # In place, here and below: a search asks for some hundred cameras at once, each with all segments.
    miss *= miss
    miss /= np.maximum(reach, 1e-12, out=reach)
    return np.minimum(miss, 1.0, out=miss).reshape(*points.shape[:-1], len(bundle))


def likelihood_ratios(points: np.ndarray, bundle: SegmentBundle, spread: np.ndarray) -> np.ndarray:
    """(…, N) density of each segment's direction as a member of each point's family over that of any direction."""
    return ratios_of_sines(squared_sines(points, bundle), spread)


def ratios_of_sines(squared: np.ndarray, spread: np.ndarray) -> np.ndarray:
    """The same from squared sines (…, N)."""
    tail = squared / (3 * spread**2)
    tail += 1
    tail *= tail
    return np.divide(T3_PEAK_OVER_EVEN / spread, tail, out=tail)


def family_shares(ratios: np.ndarray, shares: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Membership (B, K, N) of each segment in each family and the likelihood ratio (B, N) of each segment.

    `ratios` (B, K, N); `shares` (B, K + 1): the share of segments that belongs to no family, then to each family.
    """
    weighted = ratios * shares[:, 1:, None]
    total = weighted.sum(1)
    total += shares[:, :1]
    weighted /= total[:, None, :]
    return weighted, total


def log_ratios(ratios: np.ndarray, shares: np.ndarray) -> np.ndarray:
    """The log likelihood ratios (B, N) alone."""
    total = (ratios * shares[:, 1:, None]).sum(1)
    total += shares[:, :1]
    return np.log(total, out=total)
