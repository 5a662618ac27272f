"""Faults of whole pages: a border too near the trim, too few dots, an order in doubt, each beside its clean twin."""

from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace

import cv2
import numpy as np
from PIL import Image

from board.check_contract import Findings, PageUnderCheck
from board.check_run import run_checks
from board.page_format import FORMATS
from fixtures.faults import border_near_trim, fewer_dots, pinwheel_order
from fixtures.layouts import PAGE_MM
from fixtures.page_drawing import PagePlan, draw_page
from tests.bench.drawn_comic import FIRST_SEED, gallery_plan
from tests.bench.rows import Row, at_least, at_most

ANSWERS = {"border-near-trim": "near-trim", "fewer-dots": "resolution-low", "order-doubtful": "order-doubtful"}
AMOUNTS = {"border-near-trim": (1.0, 2.5, 4.0), "fewer-dots": (150.0, 240.0, 285.0), "order-doubtful": (2.0,)}
DPI = 320  # of the clean twin: over what printers ask for
LAYOUTS = tuple(f"grid {count}" for count in (2, 4, 5, 6))


@dataclass(frozen=True)
class Task:
    kind: str | None
    amount: float
    seed: int


def rows(*, is_long: bool = False) -> Iterator[Row]:
    everything = list(tasks(40 if is_long else 4))
    with ProcessPoolExecutor(2, initializer=cv2.setNumThreads, initargs=(1,)) as pool:
        told = list(zip(everything, pool.map(findings_of, everything), strict=True))
    for kind, finding in ANSWERS.items():
        faulted = [finding in found for task, found in told if task.kind == kind]
        yield at_least(f"Whole pages: recall, {kind} of {len(faulted)}", 100 * float(np.mean(faulted)), 90, "%")
        wrong = sum(finding in found for task, found in told if task.kind != kind)
        precision = 100 * sum(faulted) / max(1, sum(faulted) + wrong)
        yield at_least(f"Whole pages: precision, {finding}", precision, 98, "%")
    clean = [bool(found & set(ANSWERS.values())) for task, found in told if task.kind is None]
    yield at_most(f"Whole pages: clean ones of {len(clean)} that raise anything", 100 * float(np.mean(clean)), 2, "%")


def tasks(each: int) -> Iterator[Task]:
    for i, (kind, amounts) in enumerate(AMOUNTS.items()):
        for k in range(each):
            yield Task(kind, amounts[k % len(amounts)], FIRST_SEED + 500_000 + 10_000 * i + 20 * k)
    for k in range(2 * each):
        yield Task(None, 0.0, FIRST_SEED + 900_000 + 20 * k)


def findings_of(task: Task) -> set[str]:
    """The page as uploaded: its panels too are found by the checks."""
    picture = picture_of(task)
    gray = np.asarray(picture.convert("L"))
    _, runs = run_checks(PageUnderCheck(gray, "final", FORMATS["a5"]))
    return {finding.finding for run in runs if isinstance(run.result, Findings) for finding in run.result.found}


def picture_of(task: Task) -> Image.Image:
    name = LAYOUTS[task.seed // 20 % len(LAYOUTS)]
    plan = replace(gallery_plan(name, "final", task.seed), width_px=round(PAGE_MM[0] / 25.4 * DPI))
    if task.kind == "order-doubtful":
        return draw_page(pinwheel_order(plan))[0]
    if task.kind == "border-near-trim":
        return draw_page(border_near_trim(plan, leftmost(plan), task.amount))[0]
    picture = draw_page(plan)[0]
    return fewer_dots(picture, task.amount, PAGE_MM) if task.kind == "fewer-dots" else picture


def leftmost(plan: PagePlan) -> int:
    """The order of a panel whose left border is the page's."""
    return 1 + min(range(len(plan.cells)), key=lambda i: min(x for x, _ in plan.cells[i].corners))
