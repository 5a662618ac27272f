"""Notes and marks of figures on the drawn comic carried to the next revision, against where its truth says they went."""

from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace

import cv2
import numpy as np

from board.page_space import contains
from board.vision.page_registration import register_pages
from fixtures.demo_plans import crate_turned, plan_of, wall_and_crates_off
from fixtures.faults import shift_set
from fixtures.marked_figures import markable_figures
from fixtures.page_drawing import PagePlan, draw_page
from fixtures.revisions import describe_change, moved_panel, scanned
from tests.bench.rows import Row, at_least, at_most

ANCHORS_A_PANEL = 12
SCAN = (1.5, 1.02, (9.0, -6.0))  # turned by degrees, scaled, shifted by px


@dataclass(frozen=True)
class Pair:
    """Two revisions of a page; the newer may come from a scanner."""

    name: str
    before: PagePlan
    after: PagePlan
    scan: tuple[float, float, tuple[float, float]] | None = None


@dataclass(frozen=True)
class Carried:
    """`errors` in percent of the newer picture's diagonal, `inside` whether each anchor is in the panel it belongs to.

    `marks`: errors of crowns and soles, in percent of their figure's height.
    """

    name: str
    errors: np.ndarray
    inside: np.ndarray
    marks: np.ndarray


def rows(*, is_long: bool = False) -> Iterator[Row]:
    with ProcessPoolExecutor(2, initializer=cv2.setNumThreads, initargs=(1,)) as pool:
        results = list(pool.map(carry, pairs(is_long)))
    for one in results:
        yield Row(f"  Drawn comic, {one.name}: anchors carried, median error", float(np.median(one.errors)), "%")
    every, inside = np.concatenate([one.errors for one in results]), np.concatenate([one.inside for one in results])
    yield at_most(f"Drawn comic: {len(every)} anchors carried, median error by the diagonal", float(np.median(every)), 0.3, "%")
    yield at_least("Drawn comic: anchors carried into the right panel", 100 * float(inside.mean()), 99, "%")
    marks = np.concatenate([one.marks for one in results])
    yield at_most(f"Drawn comic: {len(marks)} crowns and soles carried, median by height", float(np.median(marks)), 1.5, "%")
    yield Row("  Drawn comic: crowns and soles carried, 9 of 10 within", float(np.quantile(marks, 0.9)), "%")


def pairs(is_long: bool) -> list[Pair]:
    """From stage to stage, after a fault was mended, a panel pushed along, a set shifted; some from a scanner."""
    stages = [Pair(f"page {n}, {a} to {b}", plan_of(n, a), plan_of(n, b), SCAN if n == 2 else None)
              for n in ((1, 2, 3, 6, 7, 8) if is_long else (1, 2, 3)) for a, b in (("thumbnail", "pencil"), ("pencil", "final"))]
    slipped = plan_of(8, "thumbnail")
    return [
        *stages,
        Pair("page 1, crate mended", crate_turned("final"), plan_of(1, "final")),
        Pair("page 3, wall mended, scanned", wall_and_crates_off("pencil"), plan_of(3, "pencil"), SCAN),
        Pair("page 1, panel pushed", plan_of(1, "pencil"), moved_panel(plan_of(1, "pencil"), 2, (3.0, -2.0))),
        Pair("page 8, set shifted", slipped, replace(slipped, shots=[shift_set(slipped.shots[0], 3.0), *slipped.shots[1:]])),
    ]


def carry(pair: Pair) -> Carried:
    (before, truth_before), (after, truth) = draw_page(pair.before), draw_page(pair.after)
    H_page_to_picture = np.eye(3)
    if pair.scan:
        after, H_page_to_picture = scanned(after, *pair.scan)
    told = [one for one in describe_change(pair.before, pair.after, anchors(pair.before))["anchors"] if one["after"]]
    start, true = (np.array([one[key] for one in told]) for key in ("before", "after"))
    size_before, size_after = np.array(before.size, float), np.array(after.size, float)
    registration = register_pages(*(np.asarray(picture.convert("L")) for picture in (before, after)))
    went_px = registration.map_points(start * size_before)
    true_px = mapped(H_page_to_picture, true * size_after)
    panels = [mapped(H_page_to_picture, np.array(panel["polygon_px"])) for panel in truth["panels"]]
    errors = 100 * np.hypot(*(went_px - true_px).T) / np.hypot(*size_after)
    inside = np.array([owner_of(panels, point) == owner_of(panels, want) for point, want in zip(went_px, true_px, strict=True)])
    starts, ends = ends_of_figures(truth_before, truth)
    off_px = np.hypot(*(registration.map_points(starts) - mapped(H_page_to_picture, ends)).T)
    tall_px = np.hypot(*(ends[::2] - ends[1::2]).T)
    return Carried(pair.name, errors, inside, 100 * off_px / np.repeat(tall_px, 2))


def ends_of_figures(before: dict, after: dict) -> tuple[np.ndarray, np.ndarray]:
    """Crown and sole by turns, (N, 2) px each, of all figures that both drawings of a panel show standing."""
    starts, ends = [], []
    for was, now in zip(before["panels"], after["panels"], strict=True):
        there = {one["character"]: one for one in markable_figures(now)}
        for figure in markable_figures(was):
            if figure["character"] in there:
                starts += [figure["crown_px"], figure["sole_px"]]
                ends += [there[figure["character"]]["crown_px"], there[figure["character"]]["sole_px"]]
    return np.array(starts, float).reshape(-1, 2), np.array(ends, float).reshape(-1, 2)


def anchors(plan: PagePlan) -> list[tuple[float, float]]:
    """Places in every panel, page coordinates, clear of its border; the same each time."""
    rng, found = np.random.default_rng([plan.seed, 31]), []
    for cell in plan.cells:
        corners = np.clip(np.array(cell.corners), 0, plan.page_mm)
        low, high = corners.min(axis=0), corners.max(axis=0)
        inner = [low + (0.08 + 0.84 * rng.random(2)) * (high - low) for _ in range(ANCHORS_A_PANEL)]
        found += [tuple(point / plan.page_mm) for point in inner if contains(corners, point)]
    return found


def mapped(H: np.ndarray, points: np.ndarray) -> np.ndarray:
    return cv2.perspectiveTransform(points[None].astype(float), H)[0] if len(points) else points


def owner_of(panels: list[np.ndarray], point: np.ndarray) -> int | None:
    """Insets lie on top, so the last panel that holds the point; None in a gutter."""
    return max((i for i, polygon in enumerate(panels) if contains(polygon, point)), default=None)
