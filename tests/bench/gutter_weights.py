"""Fits the weights of `board.vision.gutter_signs` to drawn pages: `python -m tests.bench.gutter_weights [GALLERIES]`.

Prints the weights beside those in use, and how many gutters would be missed and lines cut wrongly, by weights fitted to other pages
and by those in use. Those in use are the mean of two fits, as `gutter_signs.py` says.
"""

import sys
from collections.abc import Iterator
from dataclasses import astuple, fields, replace

import cv2
import numpy as np

from board.vision import gutter_evidence
from board.vision.gutter_signs import WEIGHTS, GutterSigns, log_odds
from board.vision.panel_frames import find_panels
from fixtures.layout_gallery import GALLERY
from fixtures.page_drawing import draw_page
from tests.bench.drawn_comic import FIRST_SEED, STAGES, gallery_plan
from tests.bench.logistic_fit import fitted, odds_by_others

GALLERIES, SEEDS_APART, LAYOUTS_APART = 4, 1000, 20
FIRST_GALLERY = 200  # the bench has the first of them
WORK_SIDE_PX = 1400
LINE_PX = 7  # the panels of the truth, smaller by a border's width
SAMPLES = 80
OUTSIDE, INSIDE = 0.1, 0.5  # of a line in panels: less is a gutter, more runs through one; between nobody could say


def looked_at(gray: np.ndarray, panels: list[np.ndarray], reading: str) -> Iterator[tuple[GutterSigns, bool]]:
    """All signs of every line that panels may be parted along, whether the search weighs them all or not; and if it is a gutter."""
    inside = np.zeros(gray.shape, np.uint8)
    for panel in panels:
        own = cv2.fillPoly(np.zeros(gray.shape, np.uint8), [np.round(panel).astype(np.int32)], 1)
        inside |= cv2.erode(own, np.ones((LINE_PX, LINE_PX), np.uint8))
    seen, decide = [], gutter_evidence._is_likely

    def asked(place: gutter_evidence._Place, signs: GutterSigns) -> bool:
        seen.append((place, signs))
        return decide(place, signs)

    gutter_evidence._is_likely = asked
    try:
        find_panels(gray, reading=reading)
    finally:
        gutter_evidence._is_likely = decide
    for place, signs in seen:
        ends = np.array(place.ends)
        along = ends[0] + np.linspace(0.03, 0.97, SAMPLES)[:, None] * (ends[1] - ends[0])
        middle = along + ((place.strip.near + place.strip.far) / 2 - along @ place.normal)[:, None] * place.normal
        share = inside[tuple(np.clip(middle[:, ::-1].astype(int), 0, np.array(gray.shape) - 1).T)].mean()
        if not OUTSIDE <= share <= INSIDE:
            whole = gutter_evidence._with_borders(gutter_evidence._with_ends(signs, place), place)
            yield replace(whole, goes_on=gutter_evidence._goes_on(place)), bool(share < OUTSIDE)


def drawn(gallery: int) -> Iterator[tuple[np.ndarray, list[np.ndarray], str]]:
    """Pages as the search has them: gray, the polygons of their panels in its px, and how they read."""
    for number, name in enumerate(GALLERY):
        for stage in STAGES:
            picture, truth = draw_page(gallery_plan(name, stage, FIRST_SEED + SEEDS_APART * gallery + LAYOUTS_APART * number))
            share = min(1.0, WORK_SIDE_PX / max(picture.size))
            small = picture.convert("L").resize([round(side * share) for side in picture.size])
            scaled = np.array(small.size) / np.array(picture.size)
            yield np.asarray(small), [np.array(one["polygon_px"]) * scaled for one in truth["panels"]], truth["reading"]


if __name__ == "__main__":
    cv2.setNumThreads(1)
    count = int(sys.argv[1]) if len(sys.argv) > 1 else GALLERIES
    pages = (page for k in range(count) for page in drawn(FIRST_GALLERY + k))
    found = [(k, signs, is_it) for k, page in enumerate(pages) for signs, is_it in looked_at(*page)]
    owner, is_it = np.array([k for k, _, _ in found]), np.array([it for _, _, it in found])
    signs = np.array([astuple(signs) for _, signs, _ in found], float)
    odds = {"by other pages": odds_by_others(signs, is_it, owner), "in use": np.array([log_odds(signs) for _, signs, _ in found])}
    print(f"{len(found)} lines, {is_it.sum()} of them in gutters")
    for name, nats in odds.items():
        told = nats > gutter_evidence.LEAST_ODDS
        print(f"  {name}: {(is_it & ~told).sum()} gutters missed, {(~is_it & told).sum()} lines cut wrongly")
    bias, weights = fitted(signs, is_it)
    for field, weight, used in zip(fields(GutterSigns), weights, astuple(WEIGHTS), strict=True):
        print(f"  {field.name}: {weight:.2f} ({used:.2f})")
    print(f"  bias: {bias:.2f}")
