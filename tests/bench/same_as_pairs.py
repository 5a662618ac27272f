"""Pairs of panels that share their background: drawn from one seed with other people in front, as they are or with a slip."""

from dataclasses import replace

import numpy as np

from fixtures.bench_pages import bench_plan
from fixtures.page_drawing import PagePlan, draw_page
from fixtures.shot import Shot

Pair = tuple[np.ndarray, np.ndarray, list[list[float]]]


def draw_pair(seed: int, stage: str, kind: str | None = None, amount: float = 0.0) -> Pair:
    """The pages of two same-as panels, uint8 gray, and the outline of both in page coordinates.

    `kind` is shift (percent of panel width), scale (percent) or turn (degrees); the way it goes comes from the seed.
    """
    shot, plan = bench_plan(seed, stage)
    other, _ = bench_plan(seed + 7_000_000, stage)
    rng = np.random.default_rng([seed, 11])
    people = tuple(replace(one, at_m=(one.at_m[0] + float(rng.uniform(-0.9, 0.9)), *one.at_m[1:]), facing_deg=one.facing_deg + 60.0)
                   for one in shot.figures) if rng.random() < 0.6 else ()
    later = replace(shot, figures=people, balloons=other.balloons if people else ())
    later = _slipped(later, plan, kind, amount, rng)
    pages = [draw_page(replace(plan, shots=[one], seed=page_seed)) for one, page_seed in ((shot, seed), (later, seed + 1))]
    first, second = (np.asarray(picture.convert("L")) for picture, _ in pages)
    return first, second, pages[0][1]["panels"][0]["polygon"]


def _slipped(shot: Shot, plan: PagePlan, kind: str | None, amount: float, rng: np.random.Generator) -> Shot:
    way = 1.0 if rng.random() < 0.5 else -1.0
    if kind == "shift":
        angle = rng.uniform(0, 2 * np.pi)
        wide_mm = plan.page_mm[0] - 2 * 6.0
        return replace(shot, shift_mm=tuple(float(amount / 100 * wide_mm * part) for part in (np.cos(angle), np.sin(angle))))
    if kind == "scale":
        half = np.tan(np.radians(shot.fov_deg / 2)) / (1 + way * amount / 100)
        return replace(shot, fov_deg=float(np.degrees(2 * np.arctan(half))))
    return replace(shot, roll_deg=shot.roll_deg + way * amount) if kind == "turn" else shot


def cut_panel(page: np.ndarray, outline: list[list[float]]) -> np.ndarray:
    corners = np.array(outline) * page.shape[::-1]
    (left, top), (right, bottom) = np.round(corners.min(0)).astype(int), np.round(corners.max(0)).astype(int)
    return page[max(0, top) : bottom, max(0, left) : right]


