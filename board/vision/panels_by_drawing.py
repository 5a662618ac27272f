"""Panels that are nowhere near their old place, known by what is drawn in them."""

from collections.abc import Collection, Sequence

import numpy as np

from board.vision.laid_over import cut_out
from board.vision.page_registration import register_pages

# Left-over panels are compared by their drawing when their proportions are this near, and at most so many pairs of them.
UNLIKE_SIDES, MOST_TRIES = 0.5, 10


def find_by_drawing(
    before: Sequence[np.ndarray],
    after: Sequence[np.ndarray],
    left_before: list[int],
    left_after: list[int],
    pictures: tuple[np.ndarray, np.ndarray],
    *, least: float = 0.0, most_tries: int = MOST_TRIES, but: Collection[tuple[int, int]] = (),
) -> list[tuple[int, int, float]]:
    """(Index before, index after, how much in common) of the left-over panels whose drawing is found in one another, surest first.

    before, after: polygons (K, 2) in px of the two `pictures`, uint8 gray. A pair has to have more than `least` 0..1 in common;
    those in `but` are not tried.
    """
    tries = [(_unlike_sides(before[i], after[j]), i, j) for i in left_before for j in left_after if (i, j) not in but]
    sure = []
    for unlike, i, j in sorted(tries)[:most_tries]:
        if unlike < UNLIKE_SIDES:
            sure.append((in_common(before[i], after[j], pictures), i, j))
    pairs: list[tuple[int, int, float]] = []
    for quality, i, j in sorted(sure, reverse=True):
        if quality > least and not any(i == pair[0] or j == pair[1] for pair in pairs):
            pairs.append((i, j, quality))
    return pairs


def in_common(older: np.ndarray, newer: np.ndarray, pictures: tuple[np.ndarray, np.ndarray]) -> float:
    """0..1 of the drawings in two outlines, one on each picture, upright; it takes as long as registering a page."""
    cut = cut_out(pictures[0], older)[0], cut_out(pictures[1], newer)[0]
    return float(register_pages(*cut, upright=True).quality)


def _unlike_sides(older: np.ndarray, newer: np.ndarray) -> float:
    """How unlike two outlines are in the proportion of their sides: 0.7 where one is twice as wide for its height."""
    (w, h), (new_w, new_h) = np.maximum(np.ptp(older, 0), 1), np.maximum(np.ptp(newer, 0), 1)
    return float(abs(np.log(w / h * new_h / new_w)))
