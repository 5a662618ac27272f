"""Fits the weights of `board.vision.inset_signs` to drawn pages: `python -m tests.bench.inset_weights [GALLERIES]`.

Prints the weights beside those in use, and how many insets would be missed and how many other rectangles taken for one, by weights
fitted to other pages and by those in use. Those in use were fitted to some 700 such pages.
"""

from collections.abc import Iterator
from unittest.mock import patch

import numpy as np

from board.vision import ruled_insets
from board.vision.convex_polygons import polygon_area, shared_area
from board.vision.inset_evidence import signs_of, with_ends
from board.vision.inset_signs import WEIGHTS, InsetSigns, log_odds
from board.vision.panel_frames import find_panels
from tests.bench.weights_on_pages import fit_on_pages

WITHIN = 0.9  # of an inset that lies in its host
SAME, OTHER = 0.9, 0.6  # of both together that is shared: between, a rectangle has sides of an inset and others


def looked_at(gray: np.ndarray, panels: list[np.ndarray], reading: str) -> Iterator[tuple[InsetSigns, bool]]:
    """The signs of every rectangle that may be an inset, and if it is one."""
    insets = [panel for panel in panels if any(_lies_in(panel, other) for other in panels if other is not panel)]
    with patch.object(ruled_insets, "signs_of", wraps=signs_of) as asked:
        find_panels(gray, reading=reading)
    for page, corners, border in (call.args for call in asked.call_args_list):
        signs, same = signs_of(page, corners, border), max((_overlap(corners, inset) for inset in insets), default=0.0)
        if signs and not OTHER <= same < SAME:
            yield with_ends(signs, page, corners, border.value), same >= SAME


def _lies_in(panel: np.ndarray, host: np.ndarray) -> bool:
    return polygon_area(host) > polygon_area(panel) and shared_area(panel, host) >= WITHIN * polygon_area(panel)


def _overlap(a: np.ndarray, b: np.ndarray) -> float:
    shared = shared_area(a, b)
    return float(shared / (polygon_area(a) + polygon_area(b) - shared))


if __name__ == "__main__":
    print(*fit_on_pages(looked_at, WEIGHTS, log_odds, ruled_insets.LEAST_ODDS), sep="\n")
