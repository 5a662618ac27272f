"""Clean and faulted panels from seeds that no test uses: precision and recall of every finding, by stage and by size of fault."""

from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from pathlib import Path

import cv2

from fixtures.bench_faults import AMOUNTS
from fixtures.bench_pages import FIRST_BENCH_SEED, draw_bench_page
from tests.bench.fault_matching import Outcome, outcome_of
from tests.bench.fault_picture import draw_table
from tests.bench.fault_table import bar_rows, finding_rows, size_rows
from tests.bench.rows import Row

STAGES = ("thumbnail", "pencil", "final")
PROCESSES = 2
SEEDS_TRIED = 60  # for one page: most seeds show nothing to get wrong in a given way
PICTURE = Path(".bench") / "faults.png"


@dataclass(frozen=True)
class Task:
    kind: str | None
    stage: str
    amount: float
    first_seed: int


def tasks(is_long: bool) -> Iterator[Task]:
    """As many faults of each kind at every stage, over its sizes in turn; the same seeds at every stage."""
    for stage in STAGES:
        # A bounded run takes each size of fault two or three times. No bar is set for thumbnails: it only looks at them.
        faults, clean = (150, 600) if is_long else (3, 8) if stage == "thumbnail" else (12, 48)
        for i, (kind, amounts) in enumerate(AMOUNTS.items()):
            for k in range(faults):
                yield Task(kind, stage, amounts[k % len(amounts)], FIRST_BENCH_SEED + 100_000 * (i + 1) + SEEDS_TRIED * k)
        for k in range(clean):
            yield Task(None, stage, 0.0, FIRST_BENCH_SEED + k)


def outcome(task: Task) -> Outcome | None:
    """None where no seed of the task's own shows such a fault."""
    for seed in range(task.first_seed, task.first_seed + SEEDS_TRIED):
        page = draw_bench_page(seed, task.stage, task.kind, task.amount)
        if page is not None:
            return outcome_of(page)
    return None


def outcomes(is_long: bool) -> list[Outcome]:
    with ProcessPoolExecutor(PROCESSES, initializer=cv2.setNumThreads, initargs=(1,)) as pool:
        return [one for one in pool.map(outcome, tasks(is_long), chunksize=4) if one is not None]


def rows(*, is_long: bool = False, picture: Path | None = PICTURE) -> Iterator[Row]:
    results = outcomes(is_long)
    yield from size_rows(results, STAGES)
    yield from finding_rows(results, STAGES)
    yield from bar_rows(results)
    if picture is not None:
        draw_table(results, STAGES, picture)
