"""Runs the checks on one drawn panel and holds what they report against the fault that was put in.

A report is right only if its kind, its panel and its object match; any other report on the page is wrong.
"""

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from board.check_contract import CharacterUnderCheck, FigureUnderCheck, Finding, Findings, PageUnderCheck, PanelUnderCheck
from board.check_registry import CHECKS
from board.not_measured import NotMeasured
from board.page_checks import heights, perspective, proportions
from board.page_format import FORMATS
from board.page_space import PictureFrame, bounds, box_overlap, contains, middle_of
from fixtures.bench_pages import BenchPage

# Which findings answer which fault.
ANSWERS = {
    "turned-edge": {"stray-edge"},
    "turned-solid": {"stray-edge"},
    "eye-level-split": {"eye-level-split"},
    "figures-eye-level": {"height-off"},
    "figure-height": {"height-off"},
    "head-count": {"heads-off"},
}
CLICK = 0.015  # 1 sigma of a clicked mark, as a share of the figure's height
PANEL = 1


@dataclass(frozen=True)
class Outcome:
    """Of one panel: whether the fault was found, how many reports were wrong, and by which findings."""

    kind: str | None
    stage: str
    amount: float
    seed: int
    found: bool
    wrong: tuple[str, ...]


def outcome_of(page: BenchPage, kind: str | None, click_sigma: float = CLICK) -> Outcome:
    frame = PictureFrame(page.gray.shape[1], page.gray.shape[0])
    reports = list(reports_on(page, frame, click_sigma))
    right = [report for report in reports if page.fault and is_right(report, page, frame)]
    wrong = tuple(report.finding for report in reports if report not in right)
    amount = float(abs(page.fault["amount"])) if page.fault else 0.0
    return Outcome(kind, page.stage, amount, page.seed, bool(right), wrong)


def reports_on(page: BenchPage, frame: PictureFrame, click_sigma: float) -> Iterable[Finding]:
    """The checks get what a user could give: the panel, and clicked marks; the eye level is the perspective check's own."""
    truth = page.truth["panels"][0]
    panel = PanelUnderCheck(PANEL, 1, tuple((x, y) for x, y in truth["polygon"]), framed=truth["framed"])
    figures = tuple(marked_figures(page, truth["figures"], frame, click_sigma))
    seen = perspective.check(PageUnderCheck(
        page.gray, page.stage, FORMATS["a5"], panels=(panel,), tolerances=tolerances("perspective"), figures=figures
    ))
    yield from found_in(seen)
    numbers = {"perspective": seen.numbers} if isinstance(seen, Findings) else {}
    for name, check in (("heights", heights.check), ("proportions", proportions.check)):
        answer = check(PageUnderCheck(
            page.gray, page.stage, FORMATS["a5"], panels=(panel,), tolerances=tolerances(name), figures=figures, earlier=numbers
        ))
        yield from found_in(answer)


def tolerances(check: str) -> dict[str, float]:
    """The registry's; for the figure checks, which no board runs yet, those that their own tests use."""
    own = {"heights": {"height_off": 0.07, "click": CLICK}, "proportions": {"heads_off": 0.5, "segment_off": 0.05, "click": CLICK}}
    return dict(CHECKS[check].tolerances) if check in CHECKS else own[check]


def found_in(answer: Findings | NotMeasured) -> tuple[Finding, ...]:
    return answer.found if isinstance(answer, Findings) else ()


def marked_figures(page: BenchPage, drawn: list[dict], frame: PictureFrame, sigma: float) -> Iterable[FigureUnderCheck]:
    """Crown, chin and sole of each standing figure, clicked with the error of a hand."""
    rng = np.random.default_rng([page.seed, 77])
    for i, figure in enumerate(drawn):
        marks = {"crown": figure["crown_px"], "sole": figure["sole_px"]}
        if "chin" in (figure.get("joints_px") or {}):
            marks["chin"] = figure["joints_px"]["chin"]
        height_px = float(np.hypot(*np.subtract(figure["crown_px"], figure["sole_px"])))
        if not figure["stands"] or height_px < 40:
            continue
        clicked = {name: frame.to_page(np.add(point, rng.normal(0, sigma * height_px, 2))) for name, point in marks.items()}
        one = CharacterUnderCheck(i + 1, figure["character"], figure["stature_m"], figure["heads"])
        yield FigureUnderCheck(i + 1, PANEL, one, clicked, mark_sigma={name: max(sigma, 0.002) for name in marks})


def is_right(report: Finding, page: BenchPage, frame: PictureFrame) -> bool:
    fault = page.fault
    assert fault is not None
    if report.finding not in ANSWERS[fault["kind"]] or report.panel != PANEL:
        return False
    region, true = report.geometry["region"], [frame.to_page(point) for point in fault["region_px"]]
    if "point" in region:
        return contains(true, region["point"])
    # A thin line's box has next to no area: it is the fault's too when its middle lies in it, or the other way round.
    middles = contains(grown(true), middle_of(region)) or contains(grown(region["polygon"]), middle_of({"polygon": true}))
    return middles or box_overlap(region["polygon"], true) > 0.1


def grown(polygon: Iterable) -> list[tuple[float, float]]:
    left, top, right, bottom = bounds(list(polygon))
    return [(left - 0.01, top - 0.01), (right + 0.01, top - 0.01), (right + 0.01, bottom + 0.01), (left - 0.01, bottom + 0.01)]
