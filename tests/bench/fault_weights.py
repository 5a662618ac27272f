"""Fits the weights of `board.vision.fault_odds` to panels drawn for it: `python -m tests.bench.fault_weights [PANELS]`.

Prints the weights, and how many of the faults and of what is none would be told at each limit, by weights fitted to other panels.
No bench, test or demo draws from these seeds. Those in use are from 3128 panels of the same kinds, from 71,000,000 upwards.
"""

import sys
from collections import Counter
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from typing import NamedTuple

import cv2
import numpy as np

from board.not_measured import NotMeasured
from board.page_checks.perspective import solve
from board.page_space import PictureFrame
from board.panel_view import PanelView
from board.vision.edge_signs import EdgeSigns
from board.vision.lettered_areas import find_lettered_areas
from board.vision.line_segments import find_lines
from board.vision.object_perspective import ObjectFit, possible_points, shared_shift
from board.vision.perspective_faults import are_drawn
from board.vision.stroke_depths import stroke_depths
from board.vision.sure_points import is_sure_enough
from board.vision.thing_signs import level_signs, thing_signs
from board.vision.touching_things import TouchingThings
from fixtures.bench_pages import BenchPage, draw_bench_page
from fixtures.shown_faults import miss_deg
from tests.bench.fault_matching import NOISE_DEG, edge_along
from tests.bench.logistic_fit import fitted, odds_by_others
from tests.bench.seeded_faults import SEEDS_TRIED
from tests.bench.under_check import page_as_given

FIRST_SEED = 70_000_000
PANELS = 1600
AMOUNTS = {"turned-edge": (4.0, 6.0, 8.0, 10.0), "turned-upright": (4.0, 6.0, 8.0, 10.0), "turned-solid": (3.0, 5.0, 7.0, 10.0),
           "eye-level-split": (0.06, 0.08, 0.12, 0.16, 0.2), None: (0.0,),
           # Faults that move none of the set's edges: whatever is told of edges there is told wrongly.
           "outside-cone": (10.0, 15.0, 20.0, 25.0), "figures-eye-level": (0.08, 0.16), "figure-height": (12.0, 24.0)}
STAGES = "pencil", "final"
LEAST_DEG, LEAST_SHIFT = 3.5, 0.048  # a little less than the tolerances in use
LIMITS = 0.5, 1.0, 1.5, 2.0, 2.5


class Example(NamedTuple):
    """Of an edge, of a thing, or of another eye level: its signs, and whether it is the fault that was put in."""

    of: str
    signs: dict[str, float]
    is_fault: bool


def examples_of(seed: int) -> list[Example]:
    """Of the panel of one seed; those of which nobody could say whether they are wrong are left out."""
    rng = np.random.default_rng(seed)
    kind = list(AMOUNTS)[int(rng.integers(len(AMOUNTS)))]
    stage, amount = str(rng.choice(STAGES)), float(rng.choice(AMOUNTS[kind]))
    for drawn in range(seed, seed + SEEDS_TRIED):
        page = draw_bench_page(drawn, stage, kind, amount if kind else None)
        if page is not None:
            return list(_examples(page))
    return []


def _examples(page: BenchPage) -> Iterator[Example]:
    given = page_as_given(page)
    frame = PictureFrame(*given.gray.shape[::-1])
    view = PanelView(given.panels[0], frame, find_lines(given.gray), find_lettered_areas(given.gray))
    perspective = solve(view)
    if isinstance(perspective, NotMeasured) or not is_sure_enough(perspective, view.size):
        return
    on_page = view.segments + np.tile(view.corner, 2)
    depths = stroke_depths(on_page - 0.5, page.gray)
    rows = np.flatnonzero(are_drawn(view.segments, view.diagonal, depths))
    doubt_deg = np.hypot(perspective.noise_deg, view.lines.doubt_deg[rows])
    lines = EdgeSigns(view.segments[rows], perspective, view.diagonal, doubt_deg, depths[rows])
    followed = [edge_along(line.reshape(2, 2), page.panel["edges"]) for line in on_page[rows]]
    targets = set(page.fault["target"].split(", ")) if page.fault else set()
    yield from _of_edges(page, lines, followed, targets)
    things = TouchingThings(lines, perspective)
    objects = things.objects()
    points = possible_points(perspective.camera, view.size[1])
    fits = [ObjectFit(lines.segments[edges], points, view.size[1], lines.doubt_deg[edges]) for edges in objects]

    def are_targets(edges: np.ndarray) -> bool:
        solids = Counter((followed[row] or {}).get("solid") for row in edges)
        return sum(solids[target] for target in targets) * 2 >= solids.total()

    for edges, fit in zip(objects, fits, strict=True):
        own = fit.turned()
        if own is not None and things.miss[edges[own.explained]].max() >= LEAST_DEG:
            signs = thing_signs(own, fit, edges, lines)
            yield Example("thing", signs, has_fault(page, "turned-solid") and are_targets(edges[own.explained]))
    other = shared_shift(fits, objects, LEAST_SHIFT * view.size[1])
    if other is not None:
        signs = level_signs(other, view.size[1], lines)
        yield Example("eye level", signs, has_fault(page, "eye-level-split") and are_targets(other.explained))


def has_fault(page: BenchPage, kind: str) -> bool:
    return page.fault is not None and page.fault["kind"] == kind


def _of_edges(page: BenchPage, lines: EdgeSigns, followed: list, targets: set[str]) -> Iterator[Example]:
    points = {one["family"]: np.array(one["point"]) for one in page.panel["vanishing_points"]}
    for point in range(len(lines.points)):
        for row in map(int, lines.candidates(point, LEAST_DEG)):
            edge = followed[row] or {}
            is_by_hand = "drawn_px" in edge and edge["family"] in points  # what is hidden all along was not drawn
            by_hand = miss_deg(np.array(edge["drawn_px"]), points[edge["family"]]) if is_by_hand else 0.0
            is_it = "turned_deg" in edge
            may_be = NOISE_DEG[0] <= by_hand < NOISE_DEG[1] or (has_fault(page, "turned-solid") and edge.get("solid") in targets)
            if is_it or not may_be:
                yield Example("edge", lines.of(row, point), is_it)


def report(of: str, panels: list[list[Example]]) -> Iterator[str]:
    owner = np.array([k for k, panel in enumerate(panels) for one in panel if one.of == of])
    examples = [one for panel in panels for one in panel if one.of == of]
    signs, is_fault = np.array([list(one.signs.values()) for one in examples]), np.array([one.is_fault for one in examples])
    odds = odds_by_others(signs, is_fault, owner)
    yield f"{of}: {len(examples)} looked at, {is_fault.sum()} of them faults"
    for limit in LIMITS:
        yield f"  from {limit}: {(is_fault & (odds >= limit)).sum()} faults told, {(~is_fault & (odds >= limit)).sum()} wrongly"
    bias, weights = fitted(signs, is_fault)
    by_name = ", ".join(f'"{name}": {weight:.2f}' for name, weight in zip(examples[0].signs, weights, strict=True))
    yield f"  {bias:.2f}, {{{by_name}}}"


if __name__ == "__main__":
    count = int(sys.argv[1]) if len(sys.argv) > 1 else PANELS
    with ProcessPoolExecutor(2, initializer=cv2.setNumThreads, initargs=(1,)) as pool:
        panels = list(pool.map(examples_of, range(FIRST_SEED, FIRST_SEED + SEEDS_TRIED * count, SEEDS_TRIED), chunksize=4))
    for of in ("edge", "thing", "eye level"):
        print(*report(of, panels), sep="\n")
