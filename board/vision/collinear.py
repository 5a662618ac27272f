"""Pieces of one drawn line put together again: broken strokes, and the two sides of a stroke."""

import numpy as np
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import connected_components
from scipy.spatial import cKDTree

SAMPLE_STEP_PX = 6.0
REACH_PX = 8.0  # how near two segments must pass somewhere to be held together at all
PIECES_APART_PX = 1.5  # across the line
SIDES_APART_PX = 7.5  # the widest stroke whose two sides are one line
WIDEST_TURN_RAD = np.radians(2.0)
ENDS_TURN_PX = 1.5  # short pieces may turn by more: their ends are sure to about this much
WIDEST_BOW_PX = 2.0
WIDEST_GAP_PX, GAP_SHARE = 30.0, 0.6  # of the shorter piece
GAP_TURN_RAD = np.radians(1.2)


def merge_collinear(segments: np.ndarray) -> np.ndarray:
    """Segments (N, 4), px, whose direction tells the side of the gradient; (M, 4) with M <= N.

    Pieces that follow each other and sides that face each other become the line fitted through all their ends, weighted by length;
    a chain that bends by more than a stroke's width stays in its pieces.
    """
    if len(segments) < 2:
        return segments
    pairs = _near_pairs(segments)
    whole = _merge(segments, pairs[_belong_together(segments, pairs)])
    return _merge(whole, _pairs_across_gaps(whole))


def _merge(segments: np.ndarray, pairs: np.ndarray) -> np.ndarray:
    links = coo_matrix((np.ones(len(pairs)), (pairs[:, 0], pairs[:, 1])), shape=(len(segments),) * 2)
    count, group = connected_components(links, directed=False)
    merged, bow = _fitted_lines(segments, group, count)
    straight = bow <= WIDEST_BOW_PX
    return np.concatenate([merged[straight], segments[~straight[group]]])


def _near_pairs(segments: np.ndarray) -> np.ndarray:
    """(P, 2) rows of segments that pass within REACH_PX of each other, lower row first, each pair once."""
    length = np.hypot(segments[:, 2] - segments[:, 0], segments[:, 3] - segments[:, 1])
    counts = np.maximum(np.ceil(length / SAMPLE_STEP_PX).astype(int), 1) + 1
    owner = np.repeat(np.arange(len(segments)), counts)
    first = np.cumsum(counts) - counts
    along = (np.arange(len(owner)) - first[owner]) / (counts[owner] - 1)
    samples = segments[owner, :2] + along[:, None] * (segments[owner, 2:] - segments[owner, :2])
    near = owner[cKDTree(samples).query_pairs(REACH_PX, output_type="ndarray")]
    near = np.sort(near[near[:, 0] != near[:, 1]], axis=1).astype(np.int64)
    # As one number each: rows of pairs take ten times as long to make unique.
    return np.stack(np.divmod(np.unique(near[:, 0] * len(segments) + near[:, 1]), len(segments)), axis=1)


def _pairs_across_gaps(segments: np.ndarray) -> np.ndarray:
    """(P, 2) rows of segments that go on in each other's line beyond a gap, as where something crosses or a pencil skips."""
    ends, along = segments.reshape(-1, 2), segments[:, 2:] - segments[:, :2]
    length = np.hypot(*along.T)
    a, b = cKDTree(ends).query_pairs(WIDEST_GAP_PX, output_type="ndarray").T
    gap = ends[b] - ends[a]
    width = np.hypot(*gap.T)
    a, b = a // 2, b // 2
    direction = along / length[:, None]
    turn = np.abs(direction[a, 0] * direction[b, 1] - direction[a, 1] * direction[b, 0])
    base = np.where((length[a] >= length[b])[:, None], direction[a], direction[b])
    aside = np.abs(gap[:, 0] * base[:, 1] - gap[:, 1] * base[:, 0])
    middles = (segments[b, :2] + segments[b, 2:] - segments[a, :2] - segments[a, 2:]) / 2
    follow = np.abs((middles * base).sum(1)) > 0.45 * (length[a] + length[b])
    goes_on = (a != b) & follow & (width <= GAP_SHARE * np.minimum(length[a], length[b])) & (aside <= PIECES_APART_PX)
    return np.stack([a, b], axis=1)[goes_on & (turn <= np.sin(GAP_TURN_RAD))]


def _belong_together(segments: np.ndarray, pairs: np.ndarray) -> np.ndarray:
    a, b = segments[pairs[:, 0]], segments[pairs[:, 1]]
    along_a, along_b = a[:, 2:] - a[:, :2], b[:, 2:] - b[:, :2]
    length_a, length_b = np.hypot(*along_a.T), np.hypot(*along_b.T)
    along_a, along_b = along_a / length_a[:, None], along_b / length_b[:, None]
    sine = np.abs(along_a[:, 0] * along_b[:, 1] - along_a[:, 1] * along_b[:, 0])
    turn_ok = sine <= np.sin(WIDEST_TURN_RAD) + ENDS_TURN_PX / np.minimum(length_a, length_b)
    # Distances are taken across the longer of the two.
    base = np.where((length_a >= length_b)[:, None], along_a, along_b)
    normal = np.stack([-base[:, 1], base[:, 0]], axis=1)
    between = (b[:, :2] + b[:, 2:] - a[:, :2] - a[:, 2:]) / 2
    apart = np.abs((between * normal).sum(1))
    overlap = (length_a + length_b) / 2 - np.abs((between * base).sum(1))
    facing = (along_a * along_b).sum(1) < 0
    sides = facing & (apart <= SIDES_APART_PX) & (overlap > 0.5 * np.minimum(length_a, length_b))
    pieces = (apart <= PIECES_APART_PX) & ~(facing & (overlap <= 0))
    return turn_ok & (sides | pieces)


def _fitted_lines(segments: np.ndarray, group: np.ndarray, count: int) -> tuple[np.ndarray, np.ndarray]:
    """The line of each group as a segment (count, 4), and how far (count,) its members' ends stray from facing pairs' middle."""
    length = np.hypot(segments[:, 2] - segments[:, 0], segments[:, 3] - segments[:, 1])
    ends = segments.reshape(-1, 2, 2)
    middle = ends.mean(1)

    def total(values: np.ndarray) -> np.ndarray:
        return np.bincount(group, values, minlength=count)

    weight = total(length)
    centre = np.stack([total(length * middle[:, 0]), total(length * middle[:, 1])], axis=1) / weight[:, None]
    # Second moments of uniform rods: middle and extent.
    off, half = middle - centre[group], (segments[:, 2:] - segments[:, :2]) / np.sqrt(12)
    xx = total(length * (off[:, 0] ** 2 + half[:, 0] ** 2))
    xy = total(length * (off[:, 0] * off[:, 1] + half[:, 0] * half[:, 1]))
    yy = total(length * (off[:, 1] ** 2 + half[:, 1] ** 2))
    angle = 0.5 * np.arctan2(2 * xy, xx - yy)
    along = np.stack([np.cos(angle), np.sin(angle)], axis=1)
    normal = np.stack([-along[:, 1], along[:, 0]], axis=1)
    from_centre = ends - centre[group][:, None]
    place = (from_centre * along[group][:, None]).sum(2)
    first, last = np.full(count, np.inf), np.full(count, -np.inf)
    np.minimum.at(first, group, place.min(1))
    np.maximum.at(last, group, place.max(1))
    stray = np.zeros(count)
    np.maximum.at(stray, group, np.abs((from_centre * normal[group][:, None]).sum(2)).max(1))
    line = np.concatenate([centre + first[:, None] * along, centre + last[:, None] * along], axis=1)
    return line, np.maximum(stray - SIDES_APART_PX / 2, 0) + np.where(stray > SIDES_APART_PX, WIDEST_BOW_PX, 0)
