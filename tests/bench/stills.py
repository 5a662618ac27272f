"""Stills under their panels: how many are found and how well they lie; how often another still is placed."""

from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace

import cv2
import numpy as np

from board.not_measured import NotMeasured
from board.vision.laid_over import cut_out
from board.vision.still_registration import register_still
from fixtures.bench_pages import FIRST_BENCH_SEED, bench_plan
from fixtures.layouts import rectangle
from fixtures.pictures import STILL_STYLES, draw_still
from tests.bench.rows import Row, at_least, at_most
from tests.bench.still_pairs import StillPair, draw_still_pair

STAGES = ("pencil", "final")
FIRST_SEED = FIRST_BENCH_SEED + 50_000_000
LIES_WELL = 0.02  # of the panel's width, at its farthest corner
OTHER_CAMERA_DEG = 25.0


@dataclass(frozen=True)
class Task:
    """`wrong`: "" where the panel was drawn from the still, "set" where that shows another, "view" where it shows it otherwise."""

    seed: int
    stage: str
    style: str
    wrong: str = ""


def tasks(each: int) -> Iterator[Task]:
    seed = FIRST_SEED
    for wrong in ("", "set", "view"):
        for stage in STAGES:
            for style in STILL_STYLES:
                for _ in range(each):
                    seed += 1
                    yield Task(seed, stage, style, wrong)


def lies_off(task: Task) -> float | None:
    """By how much of the panel's width its farthest corner is off; None where nothing is placed."""
    pair = draw_still_pair(task.seed, task.stage, task.style)
    assert pair is not None
    panel, corner = cut_out(pair.page.gray, pair.corners_px)
    found = register_still(shown_still(task, pair), panel)
    if isinstance(found, NotMeasured):
        return None
    height, width = panel.shape
    corners = np.array([[0, 0, 1.0], [width, 0, 1], [width, height, 1], [0, height, 1]]).T
    true = pair.S_still_to_page
    true[:2, 2] -= corner
    return float(np.abs((found.S_still_to_panel @ np.linalg.inv(true) @ corners - corners)[:2]).max() / width)


def shown_still(task: Task, pair: StillPair) -> np.ndarray:
    if not task.wrong:
        return pair.still
    shot, _ = bench_plan(task.seed if task.wrong == "view" else task.seed + 5_000_000, task.stage)
    turned = replace(shot, yaw_deg=shot.yaw_deg + (OTHER_CAMERA_DEG if task.seed % 2 else -OTHER_CAMERA_DEG))
    picture, _ = draw_still(turned if task.wrong == "view" else shot, rectangle(0, 0, 120, 90), task.seed, task.style)
    return np.asarray(picture.convert("L"))


def rows(*, is_long: bool = False) -> Iterator[Row]:
    everything = list(tasks(50 if is_long else 4))
    with ProcessPoolExecutor(2, initializer=cv2.setNumThreads, initargs=(1,)) as pool:
        answers = list(zip(everything, pool.map(lies_off, everything, chunksize=4), strict=True))
    for style in STILL_STYLES:
        own = [off for task, off in answers if not task.wrong and task.style == style]
        well = [off is not None and off <= LIES_WELL for off in own]
        yield Row(f"Stills under their panels: found in place, {style}, of {len(own)}", 100 * float(np.mean(well)), "%")
    own = [off for task, off in answers if not task.wrong]
    placed = [off for off in own if off is not None]
    yield at_least(f"Stills under their panels: found, of {len(own)}", 100 * len(placed) / len(own), 80, "%")
    right = 100 * float(np.mean([off <= LIES_WELL for off in placed]))
    yield at_least("Stills under their panels: of those, in place within 2 %", right, 98, "%")
    yield Row("Stills under their panels: farthest corner off, median", 100 * float(np.median(placed)), "%")
    for wrong, name in (("set", "of another set"), ("view", "from another camera")):
        others = [off is not None for task, off in answers if task.wrong == wrong]
        yield at_most(f"Stills {name} placed all the same, of {len(others)}", 100 * float(np.mean(others)), 2, "%")
