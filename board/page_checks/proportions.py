"""Proportions: whether each marked figure keeps the head count and the segments of its character's model sheet."""

from math import dist, erf, floor, sqrt
from typing import Any

from board.check_contract import CharacterUnderCheck, CheckResult, FigureUnderCheck, Finding, Findings, PageUnderCheck
from board.figure_evidence import box_around, mark, tick_across
from board.figure_landmarks import SPANS, sides_of
from board.figure_proportions import limbs
from board.model_trend import HeadsOnPage, ModelTrend, find_trend
from board.not_measured import NotMeasured
from board.page_space import PictureFrame, Point
from board.slip_words import listed
from board.vision.eye_level import PanelEyeLevel, read_eye_level
from board.vision.proportions import Measured, MeasuredFigure, click_sigmas, measure_figure

DEFAULT_TOLERANCES = {"heads_off": 0.5, "segment_off": 0.05, "trend_heads": 0.5, "click": 0.015}
WIDENED_AT_THUMBNAIL = 1.75
# What is let go in heads holds from this many on; a figure of fewer is let go as much less. Half a head is a fifth of a figure of
# 2.5 heads, which reads as another long before. Our own choice, no source.
WHOLE_FROM_HEADS = 5.0
# Sigmas that must stand between a figure and its sheet before anything is said. Most figures are right: with three, chance made
# one note in ten wrong where marks were made by eye (own measurement, fifteen figures right for one that is off).
CERTAIN = 4.0
TOLD_BY_HEADS = ("eye-height", "chin-height")
OF_ONE_FIGURE = ("heads-off", "segment-off")
OR_BENT = " If the figure kneels, bends or sits, give it that posture: it is left out then."
NO_LENGTHS = NotMeasured("None of the lengths that the model sheet has is marked, or can be read, on this figure.")
Range = tuple[float, float]


def check(page: PageUnderCheck) -> CheckResult:
    """Measures each confirmed figure, panels left alone excepted; one gets at most a note for its head and one for its segments."""
    if not any(figure.is_confirmed for figure in page.figures):
        return NotMeasured("No figure is marked on this page.")
    left_alone = {panel.id for panel in page.panels if panel.left_alone}
    views = [FigureOnPage(page, one) for one in page.figures if one.is_confirmed and one.panel not in left_alone]
    silent = {panel: NotMeasured("This panel is left alone by this check.") for panel in left_alone}
    for panel in page.panels:
        answers = [view.measured for view in views if view.figure.panel == panel.id]
        reasons = [answer for answer in answers if isinstance(answer, NotMeasured)]
        if reasons and len(reasons) == len(answers):
            silent[panel.id] = reasons[0]
    found = [finding for view in views for finding in view.findings()] + _drifts(page, views)
    unread = {kind: {view.figure.id: reason for view in views if (reason := view.why_silent(kind)) is not None}
              for kind in OF_ONE_FIGURE}
    return Findings(tuple(found), silent, {"figures": [view.numbers() for view in views]}, figures_not_measured=unread)


class FigureOnPage:
    """One figure in px of the page, its measures, and what its sheet expects of them."""

    def __init__(self, page: PageUnderCheck, figure: FigureUnderCheck) -> None:
        self.figure, self.who = figure, figure.character
        self.frame = PictureFrame(page.gray.shape[1], page.gray.shape[0])
        self.tolerances = {**DEFAULT_TOLERANCES, **page.tolerances}
        self.widened = WIDENED_AT_THUMBNAIL if page.stage == "thumbnail" else 1.0
        self.marks_px: dict[str, Point] = {name: self.frame.to_pixels(point) for name, point in figure.marks.items()}
        sigmas_px = click_sigmas(self.marks_px, self.tolerances["click"], figure.mark_sigma)
        level = read_eye_level(page.earlier.get("perspective", {}), figure.panel, self.frame)
        self.measured = measure_figure(self.marks_px, sigmas_px, level=level if isinstance(level, PanelEyeLevel) else None,
                                       pose=figure.pose)

    def findings(self) -> list[Finding]:
        if isinstance(self.measured, NotMeasured):
            return []
        return [*self._heads_off(self.measured), *self._segment_off(self.measured)]

    def why_silent(self, kind: str) -> NotMeasured | None:
        """Why a fault of this kind could not be looked for; None where it was, or where the sheet asks for nothing."""
        if isinstance(self.measured, NotMeasured):
            return self.measured
        if kind == "heads-off":
            is_unread = self.who.head_count and not self.measured.heads
            return NotMeasured(self.measured.left_out["heads"]) if is_unread else None
        is_asked = any(name not in TOLD_BY_HEADS for name in self.who.segments)
        return NO_LENGTHS if is_asked and not self._expected_here(self.measured) else None

    def _expected_here(self, figure: MeasuredFigure) -> dict[str, Range]:
        """What the sheet allows of each length that was measured."""
        expected = {name: self._expected(name) for name in figure.segments if name not in TOLD_BY_HEADS}
        return {name: allowed for name, allowed in expected.items() if allowed}

    def _heads_off(self, figure: MeasuredFigure) -> list[Finding]:
        heads, expected = figure.heads, self.who.head_count
        if heads is None or not expected:
            return []
        tolerance = _for_heads(self.tolerances["heads_off"] * self.widened, expected)
        if abs(heads.value - expected) <= tolerance or not _is_another_head(heads, expected):
            return []
        size, age, body = ("large", "younger", "longer") if heads.value < expected else ("small", "older", "shorter")
        text = (f"{self.who.name} is {heads.value:.1f} heads tall here (±{2 * heads.sigma:.1f}); the model sheet has "
                f"{expected:.1f}. With its head too {size} the figure reads as {age}, or as someone else. "
                f"Draw the chin where the first tick is, or the body {body}.{OR_BENT if body == 'longer' else ''}")
        ticks = [tick_across(self.frame, figure.axis, 1 - number / expected, "tick") for number in range(1, _whole(expected) + 1)]
        chin = tick_across(self.frame, figure.axis, 1 - 1 / heads.value, "edge", f"{heads.value:.1f} heads")
        return [self._finding("heads-off", heads, expected, tolerance, "heads", text, figure, [chin, *ticks])]

    def _segment_off(self, figure: MeasuredFigure) -> list[Finding]:
        """The segment that is off most surely; the others follow from it mostly, and are named."""
        tolerance = self.tolerances["segment_off"] * self.widened
        off = {}
        for name, expected in self._expected_here(figure).items():
            one = figure.segments[name]
            if beyond := _beyond(one, expected, tolerance):
                off[name] = (beyond, one, expected[0] if beyond < 0 else expected[1])
        if not off:
            return []
        name = max(off, key=lambda key: abs(off[key][0]) / max(off[key][1].sigma, 1e-9))
        _, one, should = off[name]
        text = self._tell_segment(name, one, should, [other for other in off if other != name])
        unit = "% of head height" if name == "head-width" else "% of height"
        shown = Measured(100 * one.value, 100 * one.sigma)
        marks = self._segment_marks(name, figure, one, should)
        return [self._finding("segment-off", shown, 100 * should, 100 * tolerance, unit, text, figure, marks)]

    def _expected(self, name: str) -> Range | None:
        """What the sheet allows; the width of a turned head lies between its front and its side."""
        sheet = self.who.segments.get(name)
        if name != "head-width":
            return None if sheet is None else (sheet, sheet)
        depth = self.who.segments.get("head-depth")
        seen = {"front": sheet, "back": sheet, "side": depth}.get(self.figure.view or "")
        if seen is not None:
            return seen, seen
        return (min(sheet, depth), max(sheet, depth)) if sheet is not None and depth is not None else None

    def _tell_segment(self, name: str, one: Measured, should: float, others: list[str]) -> str:
        span, of = SPANS[name], "the head's height" if name == "head-width" else "the figure's height"
        what = {"level": "stand at", "limb": "measures", "width": "measures"}[span.kind]
        also = f" ({listed([SPANS[other].label for other in others])} too.)" if others else ""
        way = ("up" if should > one.value else "down") if span.kind == "level" else ("longer" if should > one.value else "shorter")
        mend = f"Move them {way} to the tick" if span.kind == "level" else f"Draw it {way}"
        return (f"{self.who.name}: {span.label.lower()} {what} {one.value:.0%} of {of} (±{2 * one.sigma:.0%}); the model sheet has "
                f"{should:.0%}.{also} A reader knows a character by such lengths before the face is read. {mend}.")

    def _segment_marks(self, name: str, figure: MeasuredFigure, one: Measured, should: float) -> list[dict[str, Any]]:
        span, label = SPANS[name], f"{one.value:.0%}"
        if span.kind == "level":
            return [tick_across(self.frame, figure.axis, one.value, "edge", label),
                    tick_across(self.frame, figure.axis, should, "true-edge", f"{should:.0%}")]
        ends = sides_of(self.marks_px, span.ends[0]) if span.kind == "width" else max(limbs(self.marks_px, span),
                                                                                      key=lambda limb: dist(*limb))
        return [mark(self.frame, "edge", ends, label)] if ends else []

    def _finding(self, finding: str, one: Measured, expected: float, tolerance: float, unit: str, text: str, figure: MeasuredFigure,
                 marks: list[dict[str, Any]]) -> Finding:
        ends = (figure.axis.crown, figure.axis.sole)
        geometry = {"region": box_around(self.frame, [ends]), "marks": [mark(self.frame, "post", ends), *marks],
                    "figures": [self.figure.id]}
        return Finding(finding, self.figure.panel, round(one.value, 2), round(expected, 2), round(tolerance, 2), unit,
                       _confidence(abs(one.value - expected), one.sigma, tolerance), text, geometry)

    def numbers(self) -> dict[str, Any]:
        """Each measure with one sigma: the character's chart is drawn from `heads`."""
        numbers: dict[str, Any] = {"figure": self.figure.id, "character": self.who.id, "panel": self.figure.panel}
        if isinstance(self.measured, NotMeasured):
            return {**numbers, "heads": None, "segments": {}, "reason": self.measured.reason}
        heads = self.measured.heads
        segments = {name: [round(one.value, 4), round(one.sigma, 4)] for name, one in self.measured.segments.items()}
        return {**numbers, "heads": [round(heads.value, 3), round(heads.sigma, 3)] if heads else None, "segments": segments}


def _beyond(one: Measured, expected: Range, tolerance: float) -> float:
    """By how much a measure leaves the range that the sheet allows; 0 where it may not have left it."""
    over, under = one.value - expected[1], one.value - expected[0]
    clear = max(tolerance, CERTAIN * one.sigma)
    if over > clear:
        return over
    return under if under < -clear and not one.only_long else 0.0


def _is_another_head(heads: Measured, expected: float) -> bool:
    """Judged by the head as a share of the figure: that is what clicks disturb evenly to both sides, and the head count is not."""
    return abs(1 / heads.value - 1 / expected) > CERTAIN * heads.sigma / heads.value**2


def _drifts(page: PageUnderCheck, views: list[FigureOnPage]) -> list[Finding]:
    """One note a character, on the latest page where it was measured: there the drift can still be stopped."""
    if page.number is None:
        return []
    found = []
    for who in {view.who.id: view.who for view in views if not view.who.drift_stands}.values():
        shown = {one.figure.id: one.measured.heads for one in views
                 if one.who.id == who.id and isinstance(one.measured, MeasuredFigure) and one.measured.heads}
        found += _drift(page, who, [(page.number, heads.value, heads.sigma) for heads in shown.values()], sorted(shown))
    return found


def _drift(page: PageUnderCheck, who: CharacterUnderCheck, here: list[HeadsOnPage], figures: list[int]) -> list[Finding]:
    elsewhere = [_by_this_sheet(who, one) for one in who.heads_by_page if one[0] != page.number]
    trend = find_trend([*elsewhere, *here])
    if not here or not isinstance(trend, ModelTrend) or trend.pages[-1][0] != page.number:
        return []
    tolerance = _for_heads({**DEFAULT_TOLERANCES, **page.tolerances}["trend_heads"], who.head_count or trend.first_heads)
    if not trend.is_off(tolerance):
        return []
    whole_page = {"region": {"polygon": [[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]]}, "marks": [], "figures": figures}
    return [Finding("off-model-trend", None, round(trend.last_heads, 2), round(trend.first_heads, 2), round(tolerance, 2), "heads",
                    _confidence(abs(trend.drift), trend.sigma, tolerance), _tell_drift(who, trend), whole_page)]


def _by_this_sheet(who: CharacterUnderCheck, one: HeadsOnPage) -> HeadsOnPage:
    """Who follows a sheet that changes does not drift: each page is held against its own."""
    page, heads, sigma = one
    there = who.sheet_heads.get(page)
    share = who.head_count / there if there and who.head_count else 1.0
    return page, heads * share, sigma * share


def _tell_drift(who: CharacterUnderCheck, trend: ModelTrend) -> str:
    first, last = trend.pages[0][0], trend.pages[-1][0]
    there, here = who.sheet_heads.get(first), who.head_count
    if there and here:
        drift = (f"from {trend.first_heads * there / here:.1f} heads on page {first}, where the model sheet has {there:.1f}, to "
                 f"{trend.last_heads:.1f} on page {last}, where it has {here:.1f} (±{2 * trend.sigma:.1f}).")
    else:
        drift = (f"from {trend.first_heads:.1f} heads on page {first} to {trend.last_heads:.1f} on page {last} "
                 f"(±{2 * trend.sigma:.1f}).{f' The model sheet has {here:.1f}.' if here else ''}")
    return (f"{who.name} drifts {drift} No single page shows it, but read in one go the figure changes age. "
            "Draw the next pages from the sheet, not from the last page.")


def _for_heads(tolerance: float, heads: float) -> float:
    return tolerance * min(1.0, heads / WHOLE_FROM_HEADS)


def _confidence(miss: float, sigma: float, tolerance: float) -> float:
    """How likely it is off by more than half the tolerance."""
    return round(min(0.99, (1 + erf((miss - tolerance / 2) / max(sigma, 1e-6) / sqrt(2))) / 2), 3)


def _whole(heads: float) -> int:
    """Whole heads above the soles."""
    return floor(heads - 1e-9)
