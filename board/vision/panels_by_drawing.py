"""Panels that are nowhere near their old place, known by what is drawn in them."""

from collections.abc import Sequence

import numpy as np

from board.vision.panel_map import map_panel

# Left-over panels are compared by their drawing when their proportions are this near, and at most so many pairs of them.
UNLIKE_SIDES, MOST_TRIES = 0.5, 10


def find_by_drawing(
    before: Sequence[np.ndarray],
    after: Sequence[np.ndarray],
    left_before: list[int],
    left_after: list[int],
    pictures: tuple[np.ndarray, np.ndarray],
) -> list[tuple[int, int]]:
    """(Index before, index after) of the left-over panels whose drawing is found in one another, surest first.

    before, after: polygons (K, 2) in px of the two `pictures`, uint8 gray.
    """
    tries = sorted((_unlike_sides(before[i], after[j]), i, j) for i in left_before for j in left_after)[:MOST_TRIES]
    sure = [(map_panel(pictures, before[i], after[j]).quality, i, j) for unlike, i, j in tries if unlike < UNLIKE_SIDES]
    pairs: list[tuple[int, int]] = []
    for quality, i, j in sorted(sure, reverse=True):
        if quality > 0 and not any(i == pair[0] or j == pair[1] for pair in pairs):
            pairs.append((i, j))
    return pairs


def _unlike_sides(older: np.ndarray, newer: np.ndarray) -> float:
    """How unlike two outlines are in the proportion of their sides: 0.7 where one is twice as wide for its height."""
    (w, h), (new_w, new_h) = np.maximum(np.ptp(older, 0), 1), np.maximum(np.ptp(newer, 0), 1)
    return float(abs(np.log(w / h * new_h / new_w)))
