"""Clean and faulted panels from seeds that no test uses: precision and recall of every finding, by stage and by size of fault."""

from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

import cv2

from fixtures.bench_pages import AMOUNTS, FIRST_BENCH_SEED, draw_bench_page
from tests.bench.fault_matching import ANSWERS, Outcome, outcome_of
from tests.bench.fault_picture import draw_table
from tests.bench.rows import Row, at_least, at_most

STAGES = ("pencil", "final")
# From this size on a fault has to be found (degrees, share of panel height, percent, heads).
COUNTS_FROM = {
    "turned-edge": 4.0, "turned-solid": 5.0, "eye-level-split": 0.06, "figures-eye-level": 0.06, "figure-height": 12.0,
    "head-count": 0.75,
}
NAMES = {"turned-edge": "edges off by ≥ 4°", "eye-level-split": "eye levels off by ≥ 6 %", "figure-height": "heights off by ≥ 12 %",
         "head-count": "head counts off by ≥ 0.75"}
PROCESSES = 2


def one(task: tuple[str | None, str, float | None, int]) -> Outcome | None:
    kind, stage, amount, seed = task
    cv2.setNumThreads(1)
    page = draw_bench_page(seed, stage, kind, amount)
    return None if page is None else outcome_of(page, kind)


def tasks(is_long: bool) -> list[tuple[str | None, str, float | None, int]]:
    each, clean = (24, 300) if is_long else (2, 16)
    rows: list[tuple[str | None, str, float | None, int]] = []
    for stage in STAGES:
        for kind, amounts in AMOUNTS.items():
            for i, amount in enumerate(amounts):
                rows += [(kind, stage, amount, FIRST_BENCH_SEED + 100 * i + k) for k in range(2 * each)]
        rows += [(None, stage, None, FIRST_BENCH_SEED + 5000 + k) for k in range(clean)]
    return rows


def outcomes(is_long: bool) -> list[Outcome]:
    with ProcessPoolExecutor(PROCESSES) as pool:
        return [outcome for outcome in pool.map(one, tasks(is_long), chunksize=4) if outcome is not None]


def rows(*, is_long: bool = False, picture: Path | None = Path(".bench") / "faults.png") -> Iterator[Row]:
    results = outcomes(is_long)
    yield from table_rows(results)
    for kind, name in NAMES.items():
        yield from bar_rows(results, kind, name)
    clean = [outcome for outcome in results if outcome.kind is None]
    raised = 100 * sum(bool(outcome.wrong) for outcome in clean) / max(1, len(clean))
    yield at_most("Seeded faults: clean panels that raise anything", raised, 2, "%")
    if picture is not None:
        draw_table(results, AMOUNTS, STAGES, picture)


def bar_rows(results: list[Outcome], kind: str, name: str) -> Iterator[Row]:
    counted = [o for o in results if o.kind == kind and o.amount >= COUNTS_FROM[kind]]
    yield at_least(f"Seeded faults: recall, {name}", 100 * sum(o.found for o in counted) / max(1, len(counted)), 90, "%")
    answers = ANSWERS[kind]
    right = sum(o.found for o in results if o.kind is not None and answers & ANSWERS[o.kind])
    wrong = sum(finding in answers for o in results for finding in o.wrong)
    if right + wrong == 0:
        yield Row(f"Seeded faults: precision, {name} (nothing reported)", 0.0, "%", ("≥", 98))
    else:
        yield at_least(f"Seeded faults: precision, {name}", 100 * right / (right + wrong), 98, "%")


def table_rows(results: list[Outcome]) -> Iterator[Row]:
    for stage in STAGES:
        for kind, amounts in AMOUNTS.items():
            for amount in amounts:
                cell = [o for o in results if (o.kind, o.stage) == (kind, stage) and abs(o.amount - amount) < 1e-9]
                if cell:
                    found = 100 * sum(o.found for o in cell) / len(cell)
                    yield Row(f"  {stage}: {kind} of {amount:g}, found of {len(cell)}", found, "%")
