"""Pages of every layout, drawn from seeds by three hands: panels and their order, and the lines that are found in them."""

from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from typing import Any

import cv2
import numpy as np

from board.page_space import contains
from board.vision.lettered_areas import find_lettered_areas
from board.vision.line_segments import find_lines
from board.vision.panel_frames import find_panels
from board.vision.panel_segments import lines_of_panel
from fixtures.bench_pages import FIRST_BENCH_SEED, bench_plan
from fixtures.layout_gallery import GALLERY, page_size_of, reading_of
from fixtures.layouts import Cell
from fixtures.page_drawing import PagePlan, draw_page
from fixtures.shot import Shot
from fixtures.shown_faults import VISIBLE_PX, inked_share
from tests.bench.real_panels import mask
from tests.bench.rows import Row, at_least, at_most

SAME = 0.9  # intersection over union
NEAR_DEG, NEAR_PX, MOST_OF = 0.5, 1.5, 0.5
ON_BORDER_PX, ON_BORDER_DEG = 4.0, 3.0
STAGES = ("thumbnail", "pencil", "final")
BALLOON_MM = 40.0
FIRST_SEED = FIRST_BENCH_SEED + 2_000_000


@dataclass(frozen=True)
class PageScore:
    """Counts on one page; edges are the drawn ones of 40 px or more, segments those that a check works from."""

    stage: str
    panels: int
    panels_found: int
    panels_right: int
    is_in_order: bool
    edges: int
    edges_found: int
    segments: int
    segments_elsewhere: int


def rows(*, is_long: bool = False) -> Iterator[Row]:
    with ProcessPoolExecutor(2, initializer=cv2.setNumThreads, initargs=(1,)) as pool:
        scores = list(pool.map(score_page, gallery_tasks(3 if is_long else 1)))
    found = 2 * sum(s.panels_right for s in scores) / sum(s.panels + s.panels_found for s in scores)
    yield at_least(f"Drawn comic: panel F1 at IoU {SAME}, {len(scores)} pages", 100 * found, 99, "%")
    yield at_least("Drawn comic: pages in exact order", 100 * np.mean([s.is_in_order for s in scores]), 99, "%")
    for stage in STAGES:
        here = [s for s in scores if s.stage == stage]
        share = 100 * sum(s.edges_found for s in here) / max(1, sum(s.edges for s in here))
        yield at_least(f"Drawn comic, {stage}: edges of ≥ 40 px found within 0.5° and 1.5 px", share, 85, "%")
        elsewhere = 100 * sum(s.segments_elsewhere for s in here) / max(1, sum(s.segments for s in here))
        yield at_most(f"Drawn comic, {stage}: segments on balloons, lettering or borders", elsewhere, 5, "%")


def gallery_tasks(rounds: int) -> list[tuple[str, str, int]]:
    names = list(enumerate(GALLERY))
    return [(name, stage, FIRST_SEED + 1000 * k + 20 * i) for k in range(rounds) for i, name in names for stage in STAGES]


def gallery_plan(name: str, stage: str, seed: int) -> PagePlan:
    """One layout of the gallery with a bench shot in each panel, and no more balloons than it has room for."""
    cells = GALLERY[name]()
    shots = [roomy(bench_plan(seed + k, stage)[0], cell) for k, cell in enumerate(cells)]
    return PagePlan(cells, shots, stage, seed, page_size_of(name), reading=reading_of(name))


def roomy(shot: Shot, cell: Cell) -> Shot:
    wide_mm = max(x for x, _ in cell.corners) - min(x for x, _ in cell.corners)
    return replace(shot, balloons=shot.balloons[: int(wide_mm // BALLOON_MM)])


def score_page(task: tuple[str, str, int]) -> PageScore:
    picture, truth = draw_page(gallery_plan(*task))
    gray = np.asarray(picture.convert("L"))
    true = [mask(panel["polygon_px"], gray.shape) for panel in truth["panels"]]
    layout = find_panels(gray, reading=truth["reading"])
    pairs = same_panels(true, [mask(polygon, gray.shape) for polygon in layout.panels])
    in_order = len(pairs) == len(true) == len(layout.panels) and all(i == j for i, j in pairs)
    lines = find_lines(gray)
    edges = [line for panel in truth["panels"] for line in drawn_edges(gray, panel)]
    kept, elsewhere = 0, 0
    lettered = find_lettered_areas(gray)
    for panel in truth["panels"]:
        own = lines_of_panel(lines, np.array(panel["polygon_px"]), lettered, gray.shape[::-1]).segments
        kept, elsewhere = kept + len(own), elsewhere + sum(is_elsewhere(line.reshape(2, 2), panel) for line in own)
    return PageScore(task[1], len(true), len(layout.panels), len(pairs), in_order, len(edges),
                     sum(is_found(line, lines.segments) for line in edges), kept, elsewhere)


def same_panels(true: list[np.ndarray], found: list[np.ndarray]) -> list[tuple[int, int]]:
    """Pairs that cover each other; at 0.9 of their union none can have two partners."""
    overlap = np.array([[(a & b).sum() / max(1, (a | b).sum()) for b in found] for a in true]).reshape(len(true), len(found))
    return [(int(i), int(j)) for i, j in np.argwhere(overlap >= SAME)]


def drawn_edges(gray: np.ndarray, panel: dict[str, Any]) -> list[np.ndarray]:
    """What the hand made (2, 2) of the set's edges, if long enough and not hidden by figures, balloons or clutter."""
    lines = [np.array(edge["drawn_px"]) for edge in panel["edges"] if "drawn_px" in edge]
    return [line for line in lines if np.hypot(*(line[1] - line[0])) >= VISIBLE_PX and inked_share(gray, line) >= 0.9]


def is_found(line: np.ndarray, segments: np.ndarray) -> bool:
    """At least half of a drawn line is covered by segments that run as it does, and on it."""
    if not len(segments):
        return False
    length = float(np.hypot(*(line[1] - line[0])))
    along = (line[1] - line[0]) / length
    ends = segments.reshape(-1, 2, 2) - line[0]
    t, off = ends @ along, ends @ np.array([-along[1], along[0]])
    run = segments[:, 2:] - segments[:, :2]
    turn = np.degrees(np.arcsin((np.abs(run @ np.array([-along[1], along[0]])) / np.hypot(*run.T)).clip(0, 1)))
    middle = np.clip(t.mean(1), 0, length)
    slope = (off[:, 1] - off[:, 0]) / np.where(np.abs(t[:, 1] - t[:, 0]) < 1e-9, 1e-9, t[:, 1] - t[:, 0])
    gap = np.abs(off[:, 0] + slope * (middle - t[:, 0]))
    fits = (turn <= NEAR_DEG) & (gap <= NEAR_PX)
    return bool(covered_px(np.clip(np.sort(t[fits], axis=1), 0, length)) >= MOST_OF * length)


def covered_px(spans: np.ndarray) -> float:
    """Length of the union of spans (N, 2)."""
    reached, total = -np.inf, 0.0
    for low, high in spans[np.argsort(spans[:, 0])]:
        total += max(0.0, high - max(low, reached))
        reached = max(reached, high)
    return total


def is_elsewhere(line: np.ndarray, panel: dict[str, Any]) -> bool:
    middle = line.mean(axis=0)
    if any(contains(balloon["polygon_px"], middle) for balloon in panel["balloons"]):
        return True
    corners = np.array(panel["polygon_px"])
    sides = np.stack([corners, np.roll(corners, -1, axis=0)], axis=1)
    return panel["framed"] and any(_lies_on(line, side) for side in sides)


def _lies_on(line: np.ndarray, side: np.ndarray) -> bool:
    along = (side[1] - side[0]) / np.hypot(*(side[1] - side[0]))
    across = np.array([-along[1], along[0]])
    run = line[1] - line[0]
    turn = np.degrees(np.arcsin(min(1.0, abs(float(run @ across)) / float(np.hypot(*run)))))
    return turn <= ON_BORDER_DEG and float(np.abs((line - side[0]) @ across).max()) <= ON_BORDER_PX
