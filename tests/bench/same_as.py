"""Same-as panels: slips of the shared background put in by known amounts, and pairs as they should be."""

import time
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass

import cv2
import numpy as np

from board.check_contract import Findings, PageUnderCheck, PanelUnderCheck, SameAsUnderCheck
from board.check_registry import CHECKS
from board.page_format import FORMATS
from fixtures.bench_pages import FIRST_BENCH_SEED
from tests.bench.rows import Row, at_least
from tests.bench.same_as_pairs import cut_panel, draw_pair

STAGES = ("pencil", "final")
# Percent of the panel's width, percent, degrees.
AMOUNTS = {"shift": (1.0, 1.5, 3.0, 6.0), "scale": (2.0, 4.0), "turn": (1.0, 2.5)}
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


def told(task: Task) -> tuple[bool, bool, float]:
    """Whether a drift is found, whether the pair could be measured, and the seconds that took."""
    earlier, later, outline = draw_pair(task.seed, task.stage, task.kind, task.amount)
    model = SameAsUnderCheck(1, 1, cut_panel(earlier, outline), 1)
    panel = PanelUnderCheck(2, 1, tuple((x, y) for x, y in outline), same_as=model)
    entry = CHECKS["same-as"]
    page = PageUnderCheck(later, task.stage, FORMATS["a5"], panels=(panel,), tolerances=entry.tolerances)
    started = time.perf_counter()
    result = entry.load()(page)
    seconds = time.perf_counter() - started
    assert isinstance(result, Findings)
    return bool(result.found), not result.not_measured, seconds


def rows(*, is_long: bool = False) -> Iterator[Row]:
    everything = list(tasks(100 if is_long else 5))
    with ProcessPoolExecutor(2, initializer=cv2.setNumThreads, initargs=(1,)) as pool:
        answers = list(zip(everything, pool.map(told, everything, chunksize=4), strict=True))
    for kind in AMOUNTS:
        found = [answer[0] for task, answer in answers if task.kind == kind]
        yield at_least(f"Same-as panels: recall, {kind} of {len(found)}", 100 * float(np.mean(found)), 90, "%")
    hits = sum(answer[0] for task, answer in answers if task.kind)
    wrong = sum(answer[0] for task, answer in answers if not task.kind)
    yield at_least("Same-as panels: precision, same-as-drift", 100 * hits / max(1, hits + wrong), 98, "%")
    yield Row("Same-as panels: pairs that could be measured", 100 * float(np.mean([answer[1] for _, answer in answers])), "%")
    yield Row("Same-as panels: one pair laid over", float(np.median([answer[2] for _, answer in answers])), "s")
