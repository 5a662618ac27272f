"""Pairs of panels of one set: in the later one the figures are drawn again, or others stand there, or nobody."""

from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from fixtures.bench_pages import bench_plan
from fixtures.cast import CORRIN, HASK, ODDA, PIM
from fixtures.character import POSES, Figure
from fixtures.marked_figures import markable_figures
from fixtures.page_drawing import draw_page
from fixtures.shot import Shot

# What becomes of the figures. In the first four they are drawn again in the pose that they had; by a looser hand they come out
# turned by some degrees, up to 3 % larger or smaller, and up to 4 cm beside.
AGAIN = ("again", "at another stage", "mirrored", "nearer")
LOOSER = "by a looser hand"
OTHERWISE = ("others", "another pose", "moved", "gone")
NEARER = 0.72  # of the angle of view
PEOPLE = (PIM, ODDA, HASK, CORRIN)


@dataclass(frozen=True)
class Drawn:
    """`gray` uint8 page of one panel; `outline` of it in page coordinates; `figures`: truth of those that could be marked, px."""

    gray: np.ndarray
    outline: list[list[float]]
    figures: tuple[dict[str, Any], ...]


def draw_redrawn(seed: int, stage: str, kind: str) -> tuple[Drawn, Drawn] | None:
    """None where the first panel shows nobody who could be marked."""
    shot, plan = bench_plan(seed, stage)
    if not shot.figures:
        return None
    first = _drawn(*draw_page(replace(plan, shots=[shot])))
    if not first.figures:
        return None
    later = _later(shot, kind, np.random.default_rng([seed, 13]))
    other = {"pencil": "final", "final": "pencil"}[stage] if kind == "at another stage" else stage
    plan = bench_plan(seed, other)[1]
    second = _drawn(*draw_page(replace(plan, shots=[later], seed=seed + 1)))
    return first, _mirrored(second) if kind == "mirrored" else second


def _later(shot: Shot, kind: str, rng: np.random.Generator) -> Shot:
    """What is said is left out: balloons would tell nothing of a figure."""
    shot = replace(shot, balloons=())
    if kind == "nearer":
        return replace(shot, fov_deg=shot.fov_deg * NEARER)
    change = {"others": _another, "another pose": _posed, "moved": _moved, LOOSER: _looser}.get(kind)
    if change:
        return replace(shot, figures=tuple(change(one, rng) for one in shot.figures))
    return replace(shot, figures=()) if kind == "gone" else shot


def _another(one: Figure, rng: np.random.Generator) -> Figure:
    return replace(one, character=PEOPLE[(PEOPLE.index(one.character) + int(rng.integers(1, 4))) % 4])


def _posed(one: Figure, rng: np.random.Generator) -> Figure:
    """Turned, and the arms otherwise. Crown and soles stay where they are."""
    names = [name for name in ("stand", "easy", "akimbo", "raise", "chin", "shrug") if POSES[name] != one.pose]
    return replace(one, facing_deg=one.facing_deg + float(rng.choice([-1, 1])) * float(rng.uniform(40, 120)),
                   pose=POSES[str(rng.choice(names))])


def _looser(one: Figure, rng: np.random.Generator) -> Figure:
    x, y, z = one.at_m
    beside, turned, grown = (float(rng.uniform(-most, most)) for most in (0.04, 6.0, 0.03))
    return replace(one, at_m=(x + beside, y, z), facing_deg=one.facing_deg + turned, size=one.size * (1 + grown))


def _moved(one: Figure, rng: np.random.Generator) -> Figure:
    x, y, z = one.at_m
    return replace(one, at_m=(x + float(rng.choice([-1, 1])) * float(rng.uniform(0.15, 0.9)), y, z))


def _drawn(picture: Any, truth: dict[str, Any]) -> Drawn:
    panel = truth["panels"][0]
    return Drawn(np.asarray(picture.convert("L")), panel["polygon"], tuple(markable_figures(panel)))


def _mirrored(page: Drawn) -> Drawn:
    wide = page.gray.shape[1]
    ends = ("crown_px", "sole_px")
    figures = tuple({**one, **{name: [wide - one[name][0], one[name][1]] for name in ends}} for one in page.figures)
    outline = [[1 - x, y] for x, y in reversed(page.outline)]
    return Drawn(np.ascontiguousarray(page.gray[:, ::-1]), outline, figures)
