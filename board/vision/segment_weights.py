"""How much each segment says on its own: one line of a hatching, or one chord of a curve, is no witness of a direction in space."""

import numpy as np
from scipy.spatial import cKDTree

PARALLEL_RAD = np.radians(5.0)
NEIGHBOUR_LENGTHS = 0.6  # lines nearer than this share of their mean length, across, repeat each other
JOINT_PX = 3.0
JOINT_SHARE = 0.15  # of the shorter segment
CURVE_TURN_RAD = np.radians((2.0, 50.0))
ONE_JOINT, TWO_JOINTS = 0.7, 0.4  # weight of a segment that goes on as a curve at one end, at both
MOST_NEIGHBOURS = 24


def independent_weights(segments: np.ndarray) -> np.ndarray:
    """(N,) in (0, 1]: 1 for a line on its own. `segments` (N, 4) in px."""
    if len(segments) < 2:
        return np.ones(len(segments))
    return neighbour_weights(segments) * curve_weights(segments)


def neighbour_weights(segments: np.ndarray) -> np.ndarray:
    """(N,) one over the square root of how many lines side by side (itself counted) say the same; `segments` (N, 4) px."""
    if len(segments) < 2:
        return np.ones(len(segments))
    middle = (segments[:, :2] + segments[:, 2:]) / 2
    along = segments[:, 2:] - segments[:, :2]
    length = np.hypot(*along.T)
    along = along / length[:, None]
    count = min(MOST_NEIGHBOURS + 1, len(segments))
    distance, near = cKDTree(middle).query(middle, k=count)
    near, distance = near[:, 1:], distance[:, 1:]
    between = middle[near] - middle[:, None]
    mean_length = (length[near] + length[:, None]) / 2
    across = np.abs(between[..., 0] * along[:, None, 1] - between[..., 1] * along[:, None, 0])
    beside = np.abs((between * along[:, None]).sum(-1)) < 0.6 * mean_length
    sine = np.abs(along[:, None, 0] * along[near, 1] - along[:, None, 1] * along[near, 0])
    alike = np.exp(-0.5 * (sine / PARALLEL_RAD) ** 2 - 0.5 * (across / np.minimum(0.3 * mean_length, 10)) ** 2)
    size_alike = np.minimum(length[near], length[:, None]) / np.maximum(length[near], length[:, None])
    return 1 / np.sqrt(1 + (alike * beside * size_alike).sum(1))


def curve_weights(segments: np.ndarray) -> np.ndarray:
    """Less for a segment that goes on, with a small turn, in another of its kind: a chord of a curve."""
    ends = segments.reshape(-1, 2)
    outward = np.repeat(segments[:, 2:] - segments[:, :2], 2, axis=0) * np.tile([[-1.0], [1.0]], (len(segments), 1))
    length = np.hypot(*outward.T)
    pairs = cKDTree(ends).query_pairs(max(JOINT_PX, JOINT_SHARE * 60), output_type="ndarray")
    a, b = pairs.T
    gap = np.hypot(*(ends[a] - ends[b]).T)
    shorter, longer = np.minimum(length[a], length[b]), np.maximum(length[a], length[b])
    # Going out of one end the line goes on along the other segment, away from their joint.
    cross = outward[a, 0] * -outward[b, 1] + outward[a, 1] * outward[b, 0]
    turn = np.abs(np.arctan2(cross, -(outward[a] * outward[b]).sum(1)))
    joined = (a // 2 != b // 2) & (gap <= np.maximum(JOINT_PX, JOINT_SHARE * shorter)) & (shorter > longer / 4)
    joined &= (turn > CURVE_TURN_RAD[0]) & (turn < CURVE_TURN_RAD[1])
    goes_on = np.zeros(len(ends), bool)
    goes_on[a[joined]] = goes_on[b[joined]] = True
    return np.array([1.0, ONE_JOINT, TWO_JOINTS])[goes_on.reshape(-1, 2).sum(1)]
