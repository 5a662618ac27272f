"""Figures that are proposed because they are drawn again: how many of them are there, and how many that are there are proposed."""

from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass

import cv2
import numpy as np

from board.vision.laid_over import cut_out
from board.vision.redrawn_figure import find_redrawn, maps_between
from fixtures.bench_pages import FIRST_BENCH_SEED
from tests.bench.redrawn_figures import AGAIN, LOOSER, OTHERWISE, Drawn, draw_redrawn
from tests.bench.rows import Row, at_least

STAGES = ("pencil", "final")
FIRST_SEED = FIRST_BENCH_SEED + 90_000_000
SEEDS_TRIED = 20  # for one pair: many show nobody who could be marked
NEAR = 0.03  # of its height, by which crown and soles of a right proposal may be off


@dataclass(frozen=True)
class Task:
    kind: str
    stage: str
    first_seed: int
    is_same_as: bool


@dataclass(frozen=True)
class Answer:
    """Of one marked figure: whether it stands in the later panel whole, whether it was proposed there, and rightly."""

    kind: str
    is_there: bool
    is_proposed: bool
    is_right: bool


def tasks(each: int) -> Iterator[Task]:
    """Found by the declaration and by the check of reuse in turn."""
    for stage in STAGES:
        for i, kind in enumerate((*AGAIN, LOOSER, *OTHERWISE)):
            for k in range(each):
                yield Task(kind, stage, FIRST_SEED + 100_000 * i + SEEDS_TRIED * k, k % 2 == 0)


def answers_to(task: Task) -> list[Answer]:
    for seed in range(task.first_seed, task.first_seed + SEEDS_TRIED):
        pair = draw_redrawn(seed, task.stage, task.kind)
        if pair is not None:
            return list(proposals_on(task, *pair))
    return []


def proposals_on(task: Task, before: Drawn, after: Drawn) -> Iterator[Answer]:
    (was, was_at), (now, now_at) = (cut_out(one.gray, np.array(one.outline) * one.gray.shape[::-1]) for one in (before, after))
    maps = maps_between(was, now, is_same_as=task.is_same_as)
    there = {one["character"]: np.array([one["crown_px"], one["sole_px"]]) for one in after.figures}
    for figure in before.figures:
        ends = np.array([figure["crown_px"], figure["sole_px"]])
        found = find_redrawn(was, now, maps, *(ends - was_at))
        true = there.get(figure["character"])
        is_right = False
        if found is not None and true is not None:
            went = (ends - was_at) @ found.to_after[:2, :2].T + found.to_after[:2, 2] + now_at
            is_right = bool(np.hypot(*(went - true).T).max() < NEAR * np.hypot(*(true[1] - true[0])))
        yield Answer(task.kind, true is not None, found is not None, is_right)


def rows(*, is_long: bool = False) -> Iterator[Row]:
    everything = list(tasks(30 if is_long else 4))
    with ProcessPoolExecutor(2, initializer=cv2.setNumThreads, initargs=(1,)) as pool:
        answers = [answer for found in pool.map(answers_to, everything, chunksize=2) for answer in found]
    again = [one for one in answers if one.kind in AGAIN and one.is_there]
    proposed = [one for one in answers if one.is_proposed]
    yield at_least(f"Figures proposed: precision of {len(proposed)}", share(proposed), 95, "%")
    yield at_least(f"Figures proposed: recall of {len(again)} drawn again in their pose", share(again), 90, "%")
    for kind in (*AGAIN, LOOSER):
        there = [one for one in answers if one.kind == kind and one.is_there]
        yield Row(f"  Figures proposed, {kind}: recall of {len(there)}", share(there), "%")
    others = [one for one in answers if one.kind in OTHERWISE]
    yield Row(f"  Figures proposed of {len(others)} that are not drawn again", sum(one.is_proposed for one in others))


def share(answers: list[Answer]) -> float:
    return 100 * sum(one.is_right for one in answers) / len(answers) if answers else float("nan")
