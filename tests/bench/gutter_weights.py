"""Fits the weights of `board.vision.gutter_signs` to drawn pages: `python -m tests.bench.gutter_weights [GALLERIES]`.

Tells the weights beside those in use, and how many gutters are missed and lines told for one wrongly, by weights fitted to others
and by those in use. Those in use are the mean of two fits, as `gutter_signs.py` says.
"""

from collections.abc import Iterator
from unittest.mock import patch

import cv2
import numpy as np

from board.vision import gutter_evidence
from board.vision.gutter_signs import WEIGHTS, GutterSigns, log_odds
from board.vision.panel_frames import find_panels
from tests.bench.weights_on_pages import fit_on_pages

LINE_PX = 7  # the panels of the truth, smaller by a border's width
SAMPLES = 80
OUTSIDE, INSIDE = 0.1, 0.5  # of a line in panels: less is a gutter, more runs through one; between nobody could say


def looked_at(gray: np.ndarray, panels: list[np.ndarray], reading: str) -> Iterator[tuple[GutterSigns, bool]]:
    """All signs of every line that panels may be parted along, whether the search weighs them all or not; and if it is a gutter."""
    inside = np.zeros(gray.shape, np.uint8)
    for panel in panels:
        own = cv2.fillPoly(np.zeros(gray.shape, np.uint8), [np.round(panel).astype(np.int32)], 1)
        inside |= cv2.erode(own, np.ones((LINE_PX, LINE_PX), np.uint8))
    with patch.object(gutter_evidence, "_is_likely", wraps=gutter_evidence._is_likely) as asked:
        find_panels(gray, reading=reading)
    for place, signs in (call.args for call in asked.call_args_list):
        ends = np.array(place.ends)
        along = ends[0] + np.linspace(0.03, 0.97, SAMPLES)[:, None] * (ends[1] - ends[0])
        middle = along + ((place.strip.near + place.strip.far) / 2 - along @ place.normal)[:, None] * place.normal
        share = inside[tuple(np.clip(middle[:, ::-1].astype(int), 0, np.array(gray.shape) - 1).T)].mean()
        if not OUTSIDE <= share <= INSIDE:
            yield gutter_evidence.all_signs(place, signs), bool(share < OUTSIDE)


if __name__ == "__main__":
    print(*fit_on_pages(looked_at, WEIGHTS, log_odds, gutter_evidence.LEAST_ODDS), sep="\n")
