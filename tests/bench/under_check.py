"""What a user could give of a drawn panel, and what the checks report on it."""

import time
from collections.abc import Iterator
from dataclasses import dataclass, replace
from importlib import import_module
from types import MappingProxyType

import numpy as np

from board.check_contract import (
    CharacterUnderCheck,
    CheckResult,
    FigureUnderCheck,
    Finding,
    Findings,
    PageUnderCheck,
    PanelUnderCheck,
)
from board.check_registry import CHECKS
from board.page_format import FORMATS
from board.page_space import PictureFrame
from board.vision.mark_snapping import snap_marks
from fixtures.bench_pages import BenchPage
from fixtures.marked_figures import markable_figures

CLICK = 0.015  # 1 sigma of a clicked mark, as a share of the figure's height
SUREST = 0.002  # nobody marks a figure more exactly
PANEL = 1
# In the order in which each builds on the ones before.
CHECKS_RUN = ("perspective", "heights", "proportions")


@dataclass(frozen=True)
class Reports:
    """`silent` names the checks that could not measure the panel; `seconds` by check."""

    found: tuple[Finding, ...]
    silent: tuple[str, ...]
    seconds: dict[str, float]


def reports_on(page: BenchPage, click_sigma: float = CLICK) -> Reports:
    given, earlier, found, silent, seconds = page_as_given(page, click_sigma), {}, [], [], {}
    for name in CHECKS_RUN:
        started = time.perf_counter()
        result = run_check(name, replace(given, earlier=MappingProxyType(earlier)))
        seconds[name] = time.perf_counter() - started
        if isinstance(result, Findings):
            earlier[name] = result.numbers
            found += result.found
        if not isinstance(result, Findings) or result.not_measured:
            silent.append(name)
    return Reports(tuple(found), tuple(silent), seconds)


def run_check(name: str, page: PageUnderCheck) -> CheckResult:
    """With the registry's tolerances; a check that no board runs yet, with its own."""
    if name in CHECKS:
        return CHECKS[name].load()(replace(page, tolerances=CHECKS[name].tolerances))
    return import_module(f"board.page_checks.{name}").check(page)


def page_as_given(page: BenchPage, click_sigma: float = CLICK) -> PageUnderCheck:
    """The panel's outline, the clicks, and for every second seed the height of the viewer's eye; never the eye level."""
    frame = PictureFrame(page.gray.shape[1], page.gray.shape[0])
    corners = tuple((float(x), float(y)) for x, y in page.panel["polygon"])
    panel = PanelUnderCheck(PANEL, 1, corners, framed=page.panel["framed"], eye_height_m=page.eye_height_m)
    figures = tuple(clicked_figures(page, frame, click_sigma))
    return PageUnderCheck(page.gray, page.stage, FORMATS["a5"], panels=(panel,), figures=figures)


def clicked_figures(page: BenchPage, frame: PictureFrame, sigma: float) -> Iterator[FigureUnderCheck]:
    """Crown, chin and soles, each clicked with the error of a hand, and moved towards the line near it as an upload's are."""
    rng = np.random.default_rng([page.seed, 77])
    for number, figure in enumerate(markable_figures(page.panel), start=1):
        points = {"crown": figure["crown_px"], "sole": figure["sole_px"]}
        points |= {name: figure["joints_px"][name] for name in ("chin",) if name in figure["joints_px"]}
        height_px = float(np.hypot(*np.subtract(figure["crown_px"], figure["sole_px"])))
        click = max(sigma, SUREST)
        clicks = {name: tuple(np.add(point, rng.normal(0, sigma * height_px, 2))) for name, point in points.items()}
        snapped = snap_marks(page.gray, clicks, click)
        marks = {name: frame.to_page(mark.point) for name, mark in snapped.items()}
        who = CharacterUnderCheck(number, figure["character"], figure["stature_m"], model_heads(page, figure))
        yield FigureUnderCheck(number, PANEL, who, marks, mark_sigma={name: mark.sigma for name, mark in snapped.items()})


def model_heads(page: BenchPage, figure: dict) -> float:
    """As the model sheet has it, whatever was drawn."""
    wrong = page.fault if page.fault and page.fault["kind"] == "head-count" else None
    return figure["heads"] - (wrong["amount"] if wrong and wrong["target"] == figure["character"] else 0.0)
