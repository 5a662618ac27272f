"""What a user could give of a drawn panel, and what the checks report on it."""

import time
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
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
from fixtures.bench_pages import BenchPage
from fixtures.marked_figures import markable_figures
from tests.bench.clicks import CLOSE_UP, LOOSE, OTHERS, Clicking, click_figure

PANEL = 1
# In the order in which each builds on the ones before.
CHECKS_RUN = ("perspective", "heights", "proportions")


@dataclass(frozen=True)
class Reports:
    """`silent` names the checks that could not measure the panel; `seconds` by check; `heads`: what head counts raise, by how the
    figures were clicked."""

    found: tuple[Finding, ...]
    silent: tuple[str, ...]
    seconds: dict[str, float]
    heads: Mapping[str, tuple[Finding, ...]] = field(default_factory=dict)


def reports_on(page: BenchPage) -> Reports:
    """Heights from two clicks by eye, head counts from crown and chin set close up: as each is marked."""
    given, earlier, found, silent, seconds = page_as_given(page), {}, [], [], {}
    close_up = tuple(clicked_figures(page, CLOSE_UP))
    for name in CHECKS_RUN:
        under = replace(given, figures=close_up) if name == "proportions" else given
        started = time.perf_counter()
        result = run_check(name, replace(under, earlier=MappingProxyType(earlier)))
        seconds[name] = time.perf_counter() - started
        if isinstance(result, Findings):
            earlier[name] = result.numbers
            found += result.found
        if not isinstance(result, Findings) or result.not_measured:
            silent.append(name)
    heads = {one.name: heads_told(page, replace(given, earlier=MappingProxyType(earlier)), one) for one in (CLOSE_UP, *OTHERS)}
    return Reports(tuple(found), tuple(silent), seconds, heads)


def heads_told(page: BenchPage, given: PageUnderCheck, clicking: Clicking) -> tuple[Finding, ...]:
    result = run_check("proportions", replace(given, figures=tuple(clicked_figures(page, clicking))))
    return result.found if isinstance(result, Findings) else ()


def run_check(name: str, page: PageUnderCheck) -> CheckResult:
    """With the registry's tolerances; a check that no board runs yet, with its own."""
    if name in CHECKS:
        return CHECKS[name].load()(replace(page, tolerances=CHECKS[name].tolerances))
    return import_module(f"board.page_checks.{name}").check(page)


def page_as_given(page: BenchPage) -> PageUnderCheck:
    """The panel's outline, the clicks, and for every second seed the height of the viewer's eye; never the eye level."""
    corners = tuple((float(x), float(y)) for x, y in page.panel["polygon"])
    panel = PanelUnderCheck(PANEL, 1, corners, framed=page.panel["framed"], eye_height_m=page.eye_height_m)
    figures = tuple(clicked_figures(page, LOOSE))
    return PageUnderCheck(page.gray, page.stage, FORMATS["a5"], panels=(panel,), figures=figures)


def clicked_figures(page: BenchPage, clicking: Clicking) -> Iterator[FigureUnderCheck]:
    frame, rng = PictureFrame(page.gray.shape[1], page.gray.shape[0]), np.random.default_rng([page.seed, 77])
    for number, figure in enumerate(markable_figures(page.panel), start=1):
        snapped = click_figure(page, figure, clicking, rng)
        marks = {name: frame.to_page(mark.point) for name, mark in snapped.items()}
        who = CharacterUnderCheck(number, figure["character"], figure["stature_m"], model_heads(page, figure))
        yield FigureUnderCheck(number, PANEL, who, marks, mark_sigma={name: mark.sigma for name, mark in snapped.items()})


def model_heads(page: BenchPage, figure: dict) -> float:
    """As the model sheet has it, whatever was drawn."""
    wrong = page.fault if page.fault and page.fault["kind"] == "head-count" else None
    return figure["heads"] - (wrong["amount"] if wrong and wrong["target"] == figure["character"] else 0.0)
