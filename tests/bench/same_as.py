"""Same-as panels: slips of the shared background put in by known amounts, and pairs as they should be."""

import time
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace

import cv2
import numpy as np

from board.check_contract import Findings, PageUnderCheck, PanelUnderCheck, SameAsUnderCheck
from board.check_registry import CHECKS
from board.page_checks.reuse import ReusePanel
from board.page_format import FORMATS
from board.vision.drawing_prints import MOST_POINTS, DrawingPrint, known_again
from board.vision.lettered_areas import lettered_mask
from fixtures.bench_pages import FIRST_BENCH_SEED
from tests.bench.rows import Row, at_least, at_most
from tests.bench.same_as_pairs import cut_panel, draw_pair

STAGES = ("pencil", "final")
# Percent of the panel's width, percent, degrees.
AMOUNTS = {"shift": (1.0, 1.5, 3.0, 6.0), "scale": (2.0, 4.0), "turn": (1.0, 2.5)}
PANELS_OF_60_PAGES = 360
FIRST_SEED = FIRST_BENCH_SEED + 40_000_000


@dataclass(frozen=True)
class Task:
    stage: str
    kind: str | None
    amount: float
    seed: int


def tasks(each: int) -> Iterator[Task]:
    """As many clean pairs as faulted ones, each with a scene of its own."""
    seed = FIRST_SEED
    for stage in STAGES:
        for kind, amounts in (*AMOUNTS.items(), *[(None, (0.0,))] * len(AMOUNTS)):
            for k in range(each):
                seed += 1
                yield Task(stage, kind, amounts[k % len(amounts)], seed)


@dataclass(frozen=True)
class Answer:
    is_told: bool
    is_measured: bool
    seconds: float
    prints: tuple[DrawingPrint, DrawingPrint, DrawingPrint]  # of the earlier panel, the later one, and that mirrored


def told(task: Task) -> Answer:
    """Whether a drift is found, whether the pair could be measured, the seconds that took, and the panels' fingerprints."""
    earlier, later, outline = draw_pair(task.seed, task.stage, task.kind, task.amount)
    model = SameAsUnderCheck(1, 1, cut_panel(earlier, outline), 1)
    panel = PanelUnderCheck(2, 1, tuple((x, y) for x, y in outline), same_as=model)
    entry = CHECKS["same-as"]
    page = PageUnderCheck(later, task.stage, FORMATS["a5"], panels=(panel,), tolerances=entry.tolerances)
    started = time.perf_counter()
    result = entry.load()(page)
    seconds = time.perf_counter() - started
    assert isinstance(result, Findings)
    prints = [ReusePanel(replace(page, gray=gray), panel, lettered_mask(gray)) for gray in (earlier, later)]
    earlier_one, later_one = prints
    of_both = earlier_one.print, later_one.print, later_one.mirrored
    return Answer(bool(result.found), not result.not_measured, seconds, of_both)


def reuse_rows(answers: list[tuple[Task, Answer]]) -> Iterator[Row]:
    """Each later panel among all the earlier ones of its stage, and among 360, of which most are filled up by chance."""
    found, wrong, seconds = 0, 0, []
    rng = np.random.default_rng(3)
    for stage in STAGES:
        of_stage = [answer for task, answer in answers if task.stage == stage]
        there = [answer.prints[0] for answer in of_stage]
        board = there + [by_chance(rng) for _ in range(PANELS_OF_60_PAGES - len(there))]
        for index, answer in enumerate(of_stage):
            started = time.perf_counter()
            known = known_again(*answer.prints[1:], board)
            seconds.append(time.perf_counter() - started)
            found += any(one.index == index for one in known)
            wrong += sum(one.index != index for one in known)
    label = f"Drawings used again: found, of {len(answers)} panels among {PANELS_OF_60_PAGES}"
    yield at_least(label, 100 * found / len(answers), 90, "%")
    yield at_least("Drawings used again: precision", 100 * found / max(1, found + wrong), 98, "%")
    yield at_most("Drawings used again: six panels among those of 60 pages", 6 * float(np.median(seconds)), 2, "s")


def by_chance(rng: np.random.Generator) -> DrawingPrint:
    at = rng.uniform(0, 1, (MOST_POINTS, 2)).astype(np.float32)
    return DrawingPrint(at, rng.integers(0, 256, (MOST_POINTS, 32)).astype(np.uint8), 1.0)


def rows(*, is_long: bool = False) -> Iterator[Row]:
    everything = list(tasks(100 if is_long else 5))
    with ProcessPoolExecutor(2, initializer=cv2.setNumThreads, initargs=(1,)) as pool:
        answers = list(zip(everything, pool.map(told, everything, chunksize=4), strict=True))
    yield from reuse_rows(answers)
    for kind in AMOUNTS:
        found = [answer.is_told for task, answer in answers if task.kind == kind]
        yield at_least(f"Same-as panels: recall, {kind} of {len(found)}", 100 * float(np.mean(found)), 90, "%")
    hits = sum(answer.is_told for task, answer in answers if task.kind)
    wrong = sum(answer.is_told for task, answer in answers if not task.kind)
    yield at_least("Same-as panels: precision, same-as-drift", 100 * hits / max(1, hits + wrong), 98, "%")
    share = float(np.mean([answer.is_measured for _, answer in answers]))
    yield Row("Same-as panels: pairs that could be measured", 100 * share, "%")
    yield Row("Same-as panels: one pair laid over", float(np.median([answer.seconds for _, answer in answers])), "s")
