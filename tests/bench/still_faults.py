"""Panels drawn from stills of a known camera, with faults and without: what the check against their stills tells."""

from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace

import cv2
import numpy as np

from board.check_contract import Finding, Findings, PageUnderCheck, PanelUnderCheck, StillUnderCheck
from board.check_registry import CHECKS
from board.exact_camera import ExactCamera
from board.page_format import FORMATS
from fixtures.bench_pages import FIRST_BENCH_SEED
from fixtures.pictures import STILL_STYLES
from tests.bench.fault_matching import edge_along, in_pixels
from tests.bench.fault_table import percent
from tests.bench.rows import Row, at_least, at_most
from tests.bench.still_pairs import StillPair, draw_still_pair

STAGES = ("pencil", "final")
FIRST_SEED = FIRST_BENCH_SEED + 60_000_000
SEEDS_TRIED = 40
CLICK_PX = 3.0  # 1 sigma of a placing click
OF_EDGES = ("turned-edge", "turned-upright", "turned-solid", "eye-level-split")
# Degrees; shares of the panel's height; shares of its width.
AMOUNTS = {"turned-edge": (4.0, 6.0, 8.0), "turned-upright": (4.0, 6.0, 8.0), "turned-solid": (5.0, 7.0, 10.0),
           "eye-level-split": (0.06, 0.08, 0.12), "raised-view": (0.06, 0.08, 0.12), "shifted": (0.05, 0.08)}


@dataclass(frozen=True)
class Task:
    kind: str | None
    amount: float
    stage: str
    style: str
    first_seed: int


@dataclass(frozen=True)
class Answer:
    task: Task
    right: int
    wrong: int
    is_silent: bool


def tasks(each: int) -> Iterator[Task]:
    """As many clean pairs as of all faults together; styles of stills, stages and amounts in turn."""
    kinds = [(kind, amounts[k % len(amounts)]) for kind, amounts in AMOUNTS.items() for k in range(each)]
    for number, (kind, amount) in enumerate([*kinds, *[(None, 0.0)] * len(kinds)]):
        yield Task(kind, amount, STAGES[number % 2], STILL_STYLES[number // 2 % 3], FIRST_SEED + SEEDS_TRIED * number)


def answer(task: Task) -> Answer | None:
    """None where no seed of the task's own shows such a fault."""
    for seed in range(task.first_seed, task.first_seed + SEEDS_TRIED):
        pair = draw_still_pair(seed, task.stage, task.style, task.kind, task.amount)
        if pair is not None:
            found, is_silent = findings_on(pair)
            right = [one for one in found if is_right(one, pair)]
            return Answer(task, len(right), len(found) - len(right), is_silent)
    return None


def findings_on(pair: StillPair) -> tuple[tuple[Finding, ...], bool]:
    """As a user has it: clicked two points with the error of a hand, and typed in the camera."""
    size = pair.still.shape[1], pair.still.shape[0]
    camera = ExactCamera(pair.focal_px, pair.pitch_deg, pair.roll_deg, pair.yaw_deg)
    S = clicked(pair)
    placed = replace(pair.placed, turn=complex(S[0, 0], S[1, 0]), shift=complex(S[0, 2], S[1, 2]))
    still = StillUnderCheck("the set", pair.still, S, placed.numbers(camera.numbers(*size)))
    panel = PanelUnderCheck(1, 1, tuple((x, y) for x, y in pair.page.panel["polygon"]), still=still)
    entry = CHECKS["still"]
    page = PageUnderCheck(pair.page.gray, pair.page.stage, FORMATS["a5"], panels=(panel,), tolerances=entry.tolerances)
    measured = CHECKS["perspective"].load()(page)
    earlier = {"perspective": measured.numbers} if isinstance(measured, Findings) else {}
    result = entry.load()(PageUnderCheck(page.gray, page.stage, page.format, panels=(panel,), tolerances=entry.tolerances,
                                         earlier=earlier))
    assert isinstance(result, Findings)
    return result.found, bool(result.not_measured)


def clicked(pair: StillPair) -> np.ndarray:
    rng, corners = np.random.default_rng([pair.page.seed, 31]), pair.corners_px
    low, high = corners.min(0), corners.max(0)
    true = low + np.array([[0.25, 0.3], [0.75, 0.7]]) * (high - low)
    at = true + rng.normal(0, CLICK_PX, (2, 2)) + pair.slip_px
    turn = complex(*(at[1] - at[0])) / complex(*(true[1] - true[0]))
    shift = complex(*at[0]) - turn * complex(*true[0])
    return np.array([[turn.real, -turn.imag, shift.real], [turn.imag, turn.real, shift.imag], [0, 0, 1.0]]) @ pair.S_still_to_page


def is_right(finding: Finding, pair: StillPair) -> bool:
    """Of edges: most of those told belong to what was got wrong. Of all the drawing: it was, and either way of telling is so."""
    fault = pair.page.fault
    if finding.unit != "°":
        return pair.kind in ("raised-view", "shifted")
    if fault is None:
        return False
    lines = in_pixels([mark["points"] for mark in finding.geometry["marks"] if mark["kind"] == "edge"], pair.page)
    wrong, is_all = set(fault["target"].split(", ")), pair.kind == "raised-view"
    told = [edge_along(line, pair.page.panel["edges"]) for line in lines]
    own = [edge for edge in told if edge and (is_all or edge["solid"] in wrong)]
    return 2 * len(own) >= len(lines)


def rows(*, is_long: bool = False) -> Iterator[Row]:
    with ProcessPoolExecutor(2, initializer=cv2.setNumThreads, initargs=(1,)) as pool:
        answers = [one for one in pool.map(answer, tasks(60 if is_long else 6), chunksize=2) if one]
    yield from rows_of(answers)


def found_of(answers: list[Answer]) -> float:
    return percent(sum(one.right > 0 for one in answers), len(answers))


def rows_of(answers: list[Answer]) -> Iterator[Row]:
    for kind in AMOUNTS:
        for style in STILL_STYLES:
            own = [one for one in answers if (one.task.kind, one.task.style) == (kind, style)]
            yield Row(f"  Still-mismatch: {kind}, {style}, found of {len(own)}", found_of(own), "%")
    bars = (("edges", OF_EDGES), ("eye level of the whole", ("raised-view",)), ("a drawing that slipped", ("shifted",)))
    for name, kinds in bars:
        own = [one for one in answers if one.task.kind in kinds]
        yield at_least(f"Still-mismatch: recall, {name}, of {len(own)}", found_of(own), 90, "%")
    right, wrong = sum(one.right for one in answers), sum(one.wrong for one in answers)
    yield at_least(f"Still-mismatch: precision of {right + wrong} notes", percent(right, right + wrong), 98, "%")
    clean = [one for one in answers if one.task.kind is None]
    raised = percent(sum(one.wrong > 0 for one in clean), len(clean))
    yield at_most(f"Still-mismatch: clean panels of {len(clean)} that raise anything", raised, 2, "%")
    yield Row("Still-mismatch: clean panels not measured", percent(sum(one.is_silent for one in clean), len(clean)), "%")
