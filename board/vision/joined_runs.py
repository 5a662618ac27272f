"""Runs of one drawn line put together again: broken strokes, strokes gone over twice, the two sides of a broad one.

Two runs are one line where a line through all their points fits about as well as a hand draws, and no wide gap lies between.
"""

import numpy as np
from scipy.spatial import cKDTree

from board.vision.straight_runs import Runs, fitted

ROUNDS = 6  # two by two: up to 64 pieces
SAMPLE_STEP_PX, REACH_PX = 6.0, 7.0  # how near two runs pass somewhere to be held together
WIDEST_GAP_PX, GAP_SHARE, ANY_GAP_PX = 30.0, 0.6, 3.0  # in all; of the shorter run; never too wide
WIDEST_SPREAD_PX = 1.5  # of all points about their common line
WIDEST_END_PX = 3.3  # of the runs' own ends from it
TURN_RAD, ENDS_PX = np.radians(5.0), 1.0  # a run's direction is sure to about this much of its length
BROADEST_STROKE_PX = 12.0


def join_runs(runs: Runs) -> Runs:
    """One run for each line."""
    near, as_before = _near(runs.ends), 0
    for _ in range(ROUNDS):
        # Of two runs that neither was joined to another, it was asked already: the joined ones are the last rows.
        asked = near[1] >= as_before
        first, second = _one_line(runs, near[0][asked], near[1][asked])
        if not len(first):
            break
        runs, place = _joined(runs, first, second)
        near, as_before = _pairs(place[np.stack(near, axis=1)], len(runs.ends)), len(runs.ends) - len(first)
    return runs


def _near(ends: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Rows of runs that pass close to each other, or end not far from each other."""
    if len(ends) < 2:
        return np.zeros(0, int), np.zeros(0, int)
    steps = np.ceil(np.hypot(ends[:, 2] - ends[:, 0], ends[:, 3] - ends[:, 1]) / SAMPLE_STEP_PX).astype(int).clip(1) + 1
    owner = np.repeat(np.arange(len(ends)), steps)
    t = (np.arange(len(owner)) - (np.cumsum(steps) - steps)[owner]) / (steps[owner] - 1)
    samples = ends[owner, :2] + t[:, None] * (ends[owner, 2:] - ends[owner, :2])
    near = owner[_tree(samples).query_pairs(REACH_PX, output_type="ndarray")]
    follow = _tree(ends.reshape(-1, 2)).query_pairs(WIDEST_GAP_PX, output_type="ndarray") // 2
    return _pairs(np.concatenate([near, follow]), len(ends))


def _tree(points: np.ndarray) -> cKDTree:
    # Lines lie about evenly: what a balanced tree takes longer to make is not won back by asking it once.
    return cKDTree(points, balanced_tree=False, compact_nodes=False)


def _pairs(rows: np.ndarray, count: int) -> tuple[np.ndarray, np.ndarray]:
    """Pairs of rows (P, 2) below `count`, each once and the lower row first; those of a row with itself are left out."""
    low, high = np.minimum(*rows.T), np.maximum(*rows.T)
    # As one number each, sorted: rows of pairs, and looking each up, take ten times as long to make unique.
    number = np.sort((low.astype(np.int64) * count + high)[low < high])
    return np.divmod(number[np.diff(number, prepend=-1) > 0], count)


def _one_line(runs: Runs, first: np.ndarray, second: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Which of the pairs are one line; of several with one run, the pair of most weight."""
    run = runs.ends[:, 2:] - runs.ends[:, :2]
    length = np.hypot(*run.T)
    direction = run / length[:, None].clip(1e-9)
    shorter = np.minimum(length[first], length[second])
    turn = np.abs(direction[first, 0] * direction[second, 1] - direction[first, 1] * direction[second, 0])
    alike = turn <= np.sin(TURN_RAD) + ENDS_PX / shorter
    first, second, shorter = first[alike], second[alike], shorter[alike]
    middle, along, spread = fitted(runs.moments[first] + runs.moments[second])
    spans, aside = zip(*(_about(runs.ends[rows], middle, along) for rows in (first, second)), strict=True)
    gap = np.maximum(spans[0][:, 0], spans[1][:, 0]) - np.minimum(spans[0][:, 1], spans[1][:, 1])
    fits = (spread <= WIDEST_SPREAD_PX) & (np.maximum(*aside) <= WIDEST_END_PX)
    fits &= gap <= np.minimum(WIDEST_GAP_PX, np.maximum(GAP_SHARE * shorter, ANY_GAP_PX))
    fits &= ~(_face_apart(runs, first, second) & (gap > 0))
    fits |= _are_sides(runs, first, second) & (gap < -0.5 * shorter)
    first, second = first[fits], second[fits]
    return _heaviest(first, second, runs.moments[:, 0])


def _about(ends: np.ndarray, middle: np.ndarray, along: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Of segments (P, 4) and one line each: where they start and end along it (P, 2), and how far (P,) their ends stand off it."""
    off = ends.reshape(-1, 2, 2) - middle[:, None]
    place = (off * along[:, None]).sum(2)
    return np.sort(place, axis=1), np.abs(off[..., 0] * along[:, None, 1] - off[..., 1] * along[:, None, 0]).max(1)


def _face_apart(runs: Runs, first: np.ndarray, second: np.ndarray) -> np.ndarray:
    return (runs.facing[first] * runs.facing[second]).sum(1) < 0


def _are_sides(runs: Runs, first: np.ndarray, second: np.ndarray) -> np.ndarray:
    """Whether two edges are the sides of one broad stroke: dark between them, lighter outside."""
    between = (runs.ends[second, :2] + runs.ends[second, 2:] - runs.ends[first, :2] - runs.ends[first, 2:]) / 2
    across = (between * runs.facing[second]).sum(1)
    outwards = (across > 0) & ((between * runs.facing[first]).sum(1) < 0)
    return _face_apart(runs, first, second) & outwards & (across <= BROADEST_STROKE_PX)


def _heaviest(first: np.ndarray, second: np.ndarray, weight: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Pairs that share no run, the heaviest first."""
    taken, kept = np.zeros(len(weight), bool), []
    for k in np.argsort(-(weight[first] + weight[second]), kind="stable"):
        if not (taken[first[k]] or taken[second[k]]):
            taken[first[k]] = taken[second[k]] = True
            kept.append(k)
    return first[kept], second[kept]


def _joined(runs: Runs, first: np.ndarray, second: np.ndarray) -> tuple[Runs, np.ndarray]:
    """The runs that stay, then the joined ones; and which of these each run has become."""
    moments = runs.moments[first] + runs.moments[second]
    middle, along, _ = fitted(moments)
    places = np.concatenate([_about(runs.ends[rows], middle, along)[0] for rows in (first, second)], axis=1)
    ends = np.concatenate([middle + places.min(1)[:, None] * along, middle + places.max(1)[:, None] * along], axis=1)
    facing = (runs.facing[first] + runs.facing[second]) / 2
    left = np.ones(len(runs.ends), bool)
    left[first] = left[second] = False
    place = np.cumsum(left) - 1
    place[first] = place[second] = left.sum() + np.arange(len(first))
    return Runs.together(Runs(runs.moments[left], runs.facing[left], runs.ends[left]), Runs(moments, facing, ends)), place
