"""Straight runs of line points: neighbours that head the same way, as far as one straight line fits them.

Each run is kept as the moments of its points, so that runs can be joined without going back to the points. Source of the grouping
by direction in two overlapping partitions, of which each point takes the one that holds it in the larger group: Burns, Hanson and
Riseman, Extracting straight lines, 1986.
"""

from dataclasses import dataclass

import numpy as np
from scipy.sparse import csr_matrix
from scipy.sparse.csgraph import connected_components

from board.vision.line_points import LinePoints

DIRECTIONS = 4  # of half a turn, in each partition: a hand wavers, a corner turns by more
NEIGHBOURS = ((1, 0), (0, 1), (1, 1), (-1, 1), (2, 0), (0, 2), (2, 1), (1, 2), (-1, 2), (-2, 1))
WIDEST_BOW_PX = 1.2  # root mean square of the points about their line; a run that bends more is cut in two
CUTS = 4
SHORTEST_PX = 6.0
FEWEST_PER_PX = 0.6


@dataclass(frozen=True)
class Runs:
    """N runs: `moments` (N, 6) of weight and weight·(x, y, x², xy, y²) about the picture's corner; `facing` (N, 2) the mean unit
    vector to the lighter side, 0 for strokes, which have two; `ends` (N, 4) px."""

    moments: np.ndarray
    facing: np.ndarray
    ends: np.ndarray

    @staticmethod
    def together(*several: "Runs") -> "Runs":
        return Runs(*(np.concatenate([getattr(one, name) for one in several]) for name in ("moments", "facing", "ends")))


def straight_runs(points: LinePoints, shape: tuple[int, int], *, have_sides: bool) -> Runs:
    """Of points in a picture of `shape` (H, W); `have_sides` where they are edges, of which opposite ones never join."""
    if len(points.pixel) < 2:
        return Runs(np.zeros((0, 6)), np.zeros((0, 2)), np.zeros((0, 4)))
    links = _neighbours(points.pixel, shape)
    group = _by_direction(points, links, 2 * DIRECTIONS if have_sides else DIRECTIONS)
    rows = np.arange(len(group))
    for _ in range(CUTS):
        # Of the points whose run was cut last, at first of all: which are on a run that still bends, and on which half of it.
        own = _numbered(group[rows])
        count = own.max() + 1
        middle, along, bow = fitted(moments_of(points.at[rows], points.weight[rows], own, count))
        place = _places(points.at[rows], middle, along, own)
        low, high = extent(place, own, count)
        bent = np.flatnonzero(((bow > WIDEST_BOW_PX) & (high - low > 2 * SHORTEST_PX))[own])
        if not len(bent):
            break
        rows, links = rows[bent], _links_among(bent, links, len(rows))
        # What hung together by the part that is cut off (two lines that cross at a small angle) falls apart.
        group[rows] = group.max() + 1 + _hanging_together(own[bent] + np.where(place[bent] > 0, count, 0), links)
    group = _numbered(group)
    return _kept(points, group, have_sides)


def _by_direction(points: LinePoints, links: tuple[np.ndarray, np.ndarray], directions: int) -> np.ndarray:
    """(N,) the group of each point, from 0."""
    step = (2 * np.pi if directions > DIRECTIONS else np.pi) / directions
    labels, sizes = [], []
    for offset in (0.0, 0.5):
        heading = np.floor(points.along / step + offset).astype(np.int32) % directions
        label = _hanging_together(heading, links)
        labels.append(label)
        sizes.append(np.bincount(label)[label])
    chosen = np.where(sizes[1] > sizes[0], labels[1] + labels[0].max() + 1, labels[0])
    return _numbered(chosen)


def _hanging_together(kind: np.ndarray, links: tuple[np.ndarray, np.ndarray]) -> np.ndarray:
    """(N,) labels: one for all points that neighbours of one `kind` (N,) lead to; `links` in the order of their first points."""
    first, second = links
    same = kind.take(first) == kind.take(second)
    # So the rows of the matrix need no sorting.
    starts = np.zeros(len(kind) + 1, np.int32)
    np.cumsum(np.bincount(first.compress(same), minlength=len(kind)), out=starts[1:])
    seconds = second.compress(same)
    graph = csr_matrix((np.ones(len(seconds)), seconds, starts), shape=(len(kind),) * 2)
    return connected_components(graph, directed=False)[1]


def _links_among(rows: np.ndarray, links: tuple[np.ndarray, np.ndarray], count: int) -> tuple[np.ndarray, np.ndarray]:
    """Those of `links` among `count` points that join two of `rows`, which are numbered anew from 0."""
    number = np.full(count, -1, np.int32)
    number[rows] = np.arange(len(rows))
    first, second = (number[ends] for ends in links)
    both = np.flatnonzero((first >= 0) & (second >= 0))
    return first[both], second[both]


def _places(at: np.ndarray, middle: np.ndarray, along: np.ndarray, group: np.ndarray) -> np.ndarray:
    """(N,) how far along the line of its group (N,) each point (N, 2) lies from the line's middle."""
    # By columns: sums over pairs of numbers are slow.
    return sum((at[:, k] - middle[group, k]) * along[group, k] for k in range(2))


def _numbered(labels: np.ndarray) -> np.ndarray:
    """The same groups by whole numbers from 0 on, none left out."""
    return (np.cumsum(np.bincount(labels) > 0) - 1)[labels]


def _neighbours(pixel: np.ndarray, shape: tuple[int, int]) -> tuple[np.ndarray, np.ndarray]:
    """Pairs of points up to two pixels apart, by their first; a row's end next to the other side's start does no harm to a fit."""
    width = shape[1]
    number = np.full(shape[0] * width + 2 * width + 4, -1, np.int32)
    number[pixel] = np.arange(len(pixel))
    others = number.take(pixel[:, None] + np.array([dy * width + dx for dx, dy in NEIGHBOURS])).ravel()
    linked = np.flatnonzero(others >= 0)
    return linked // len(NEIGHBOURS), others[linked]


def _kept(points: LinePoints, group: np.ndarray, have_sides: bool) -> Runs:
    count = group.max() + 1
    moments = moments_of(points.at, points.weight, group, count)
    middle, along, bow = fitted(moments)
    low, high = extent(_places(points.at, middle, along, group), group, count)
    length = high - low
    keep = (length >= SHORTEST_PX) & (np.bincount(group, minlength=count) >= FEWEST_PER_PX * length) & (bow <= WIDEST_BOW_PX)
    ends = np.concatenate([middle + low[:, None] * along, middle + high[:, None] * along], axis=1)[keep]
    if not have_sides:
        return Runs(moments[keep], np.zeros((len(ends), 2)), ends)
    lighter = np.stack([np.sin(points.along), -np.cos(points.along)], axis=1)
    facing = np.stack([np.bincount(group, points.weight * lighter[:, k], count) for k in range(2)], axis=1)[keep]
    return Runs(moments[keep], facing / np.hypot(*facing.T)[:, None].clip(1e-9), ends)


def moments_of(at: np.ndarray, weight: np.ndarray, group: np.ndarray, count: int) -> np.ndarray:
    """(count, 6) of points `at` (N, 2) with `weight` (N,) in groups (N,)."""
    (x, y), w = at.T, weight
    return np.stack([np.bincount(group, values, count) for values in (w, w * x, w * y, w * x * x, w * x * y, w * y * y)], axis=1)


def fitted(moments: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Of each row of moments (N, 6) the line's middle (N, 2), direction (N, 2) and the points' spread (N,) px about it."""
    weight = moments[:, 0].clip(1e-9)
    x, y, xx, xy, yy = (moments[:, k] / weight for k in range(1, 6))
    xx, xy, yy = xx - x * x, xy - x * y, yy - y * y
    angle = 0.5 * np.arctan2(2 * xy, xx - yy)
    spread = np.sqrt(((xx + yy) / 2 - np.hypot((xx - yy) / 2, xy)).clip(0))
    return np.stack([x, y], axis=1), np.stack([np.cos(angle), np.sin(angle)], axis=1), spread


def extent(place: np.ndarray, group: np.ndarray, count: int) -> tuple[np.ndarray, np.ndarray]:
    """The least and greatest `place` (N,) of each group."""
    low, high = np.full(count, np.inf), np.full(count, -np.inf)
    np.minimum.at(low, group, place)
    np.maximum.at(high, group, place)
    return low, high
