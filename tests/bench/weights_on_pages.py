"""Weights of signs that a page's panels are found by, fitted anew to drawn pages and held against those in use."""

import sys
from collections.abc import Callable, Iterator
from dataclasses import astuple, fields
from typing import Any

import cv2
import numpy as np

from fixtures.layout_gallery import GALLERY
from fixtures.page_drawing import draw_page
from tests.bench.drawn_comic import FIRST_SEED, STAGES, gallery_plan
from tests.bench.logistic_fit import fitted, odds_by_others

GALLERIES, SEEDS_APART, LAYOUTS_APART = 4, 1000, 20
FIRST_GALLERY = 200  # the bench has the first of them
WORK_SIDE_PX = 1400

Page = tuple[np.ndarray, list[np.ndarray], str]


def drawn(gallery: int) -> Iterator[Page]:
    """Pages as the search has them: gray, the polygons of their panels in its px, and how they read."""
    for number, name in enumerate(GALLERY):
        for stage in STAGES:
            picture, truth = draw_page(gallery_plan(name, stage, FIRST_SEED + SEEDS_APART * gallery + LAYOUTS_APART * number))
            share = min(1.0, WORK_SIDE_PX / max(picture.size))
            small = picture.convert("L").resize([round(side * share) for side in picture.size])
            scaled = np.array(small.size) / np.array(picture.size)
            yield np.asarray(small), [np.array(one["polygon_px"]) * scaled for one in truth["panels"]], truth["reading"]


def fit_on_pages(looked_at: Callable[..., Iterator[tuple[Any, bool]]], in_use: Any, log_odds: Callable[[Any], float],
                 least: float) -> Iterator[str]:
    """Lines that tell the weights by name beside those `in_use`, a dataclass of numbers as the signs are, and what they come to.

    `looked_at` gives of one page the signs of all that may be it, and whether it is. The galleries to draw are the first argument
    of the command.
    """
    cv2.setNumThreads(1)
    count = int(sys.argv[1]) if len(sys.argv) > 1 else GALLERIES
    pages = (page for k in range(count) for page in drawn(FIRST_GALLERY + k))
    found = [(k, signs, is_it) for k, page in enumerate(pages) for signs, is_it in looked_at(*page)]
    owner, is_it = np.array([k for k, _, _ in found]), np.array([it for _, _, it in found])
    signs = np.array([astuple(signs) for _, signs, _ in found], float)
    odds = {"by other pages": odds_by_others(signs, is_it, owner), "in use": np.array([log_odds(signs) for _, signs, _ in found])}
    yield f"{len(found)} looked at, {is_it.sum()} of them right"
    for name, nats in odds.items():
        told = nats > least
        yield f"  {name}: {(is_it & ~told).sum()} missed, {(~is_it & told).sum()} told wrongly"
    bias, weights = fitted(signs, is_it)
    for field, weight, used in zip(fields(in_use), weights, astuple(in_use), strict=True):
        yield f"  {field.name}: {weight:.2f} ({used:.2f})"
    yield f"  bias: {bias:.2f}"
