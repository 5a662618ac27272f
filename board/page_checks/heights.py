"""Heights: whether each marked figure is as tall as its character where it stands, hung on the panel's eye level."""

from collections.abc import Sequence
from math import dist, erf, log, sqrt
from typing import Any

from board.check_contract import CheckResult, FigureUnderCheck, Finding, Findings, PageUnderCheck, PanelUnderCheck
from board.figure_evidence import box_around, eye_level_mark, mark, post_marks
from board.figure_landmarks import point_of
from board.figure_posts import Post, post_at
from board.not_measured import NotMeasured
from board.page_space import PictureFrame
from board.slip_words import listed
from board.vision.eye_level import PanelEyeLevel, read_eye_level
from board.vision.height_agreement import Agreement, compare_heights
from board.vision.implied_heights import EyeHeight, ImpliedHeight, Misfit, StandingFigure, eye_height_by, imply_height, misfit

DEFAULT_TOLERANCES = {"height_off": 0.07, "click": 0.015}
WIDENED_AT_THUMBNAIL = 1.75
NOT_STANDING = {"seated": "seated", "crouching": "crouching or bent"}
OR_NOT_UPRIGHT = "If it kneels, bends or sits, give it that posture: its height is left out then."
OR_HATTED = "Its crown is that of the head, under hair and hat."


def check(page: PageUnderCheck) -> CheckResult:
    """Measures the confirmed standing figures of each panel; a panel that shows too little is told with its reason."""
    if not any(figure.is_confirmed for figure in page.figures):
        return NotMeasured("No figure is marked on this page.")
    panels = [view for view in (PanelFigures(page, panel) for panel in page.panels) if view.figures]
    results = [(view, view.measure()) for view in panels]
    found = [finding for view, result in results if isinstance(result, Agreement) for finding in view.findings(result)]
    silent = {view.panel.id: result for view, result in results if isinstance(result, NotMeasured)}
    unread = {pk: reason for view, _ in results for pk, reason in view.unread.items()}
    return Findings(tuple(found), silent, {"panels": [view.numbers(result) for view, result in results]},
                    figures_not_measured={"height-off": unread})


class PanelFigures:
    """The confirmed figures of one panel, in px of the page, and what its eye level says of them."""

    def __init__(self, page: PageUnderCheck, panel: PanelUnderCheck) -> None:
        self.panel = panel
        self.frame = PictureFrame(page.gray.shape[1], page.gray.shape[0])
        self.figures = [one for one in page.figures if one.panel == panel.id and one.is_confirmed]
        tolerances = {**DEFAULT_TOLERANCES, **page.tolerances}
        self.click = tolerances["click"]
        self.tolerance = tolerances["height_off"] * (WIDENED_AT_THUMBNAIL if page.stage == "thumbnail" else 1.0)
        self.level = read_eye_level(page.earlier.get("perspective", {}), panel.id, self.frame)
        self.implied: list[ImpliedHeight] = []
        self.unread: dict[int, NotMeasured] = {}  # figure id -> why its height could not be told

    def measure(self) -> Agreement | NotMeasured:
        if self.panel.left_alone:
            return NotMeasured("This panel is left alone by this check.")
        if isinstance(self.level, NotMeasured):
            return self.level
        answers = {figure.id: self._imply(figure, self.level) for figure in self.figures}
        self.implied = [one for one in answers.values() if isinstance(one, ImpliedHeight)]
        self.unread = {pk: one for pk, one in answers.items() if isinstance(one, NotMeasured)}
        if not self.implied:
            return next(iter(self.unread.values()))
        if self.panel.eye_height_m is None:
            return compare_heights(self.implied, self.tolerance)
        eye = EyeHeight(self.panel.eye_height_m)
        misfits = [misfit(one, eye) for one in self.implied]
        return Agreement(eye, tuple(one for one in misfits if isinstance(one, Misfit) and one.is_off(self.tolerance)))

    def _imply(self, figure: FigureUnderCheck, level: PanelEyeLevel) -> ImpliedHeight | NotMeasured:
        standing = self._standing(figure)
        return standing if isinstance(standing, NotMeasured) else imply_height(standing, level)

    def _standing(self, figure: FigureUnderCheck) -> StandingFigure | NotMeasured:
        """Seated and crouching figures are left out, and those in the distance unless someone said on what ground they stand."""
        who = figure.character
        if figure.pose in NOT_STANDING:
            return NotMeasured(f"{who.name} is {NOT_STANDING[figure.pose]}: only standing figures have a height to measure.")
        if figure.pose == "far" and figure.ground_offset_m is None:
            return NotMeasured(f"{who.name} is far off, and nobody said on what ground.")
        if not who.height_m:
            return NotMeasured(f"{who.name} has no height in the cast.")
        crown, sole = point_of(figure.marks, "crown"), point_of(figure.marks, "sole")
        if crown is None or sole is None:
            return NotMeasured(f"Crown and soles of {who.name} are not both marked.")
        crown, sole = self.frame.to_pixels(crown), self.frame.to_pixels(sole)
        sigmas_px = (figure.mark_sigma.get(name, self.click) * dist(crown, sole) for name in ("sole", "crown"))
        return StandingFigure(figure.id, who.name, sole, crown, who.height_m, figure.ground_offset_m or 0.0, *sigmas_px)

    def findings(self, agreement: Agreement) -> list[Finding]:
        assert isinstance(self.level, PanelEyeLevel), "without an eye level nothing was measured"
        if agreement.pair:
            tall, short = sorted(agreement.pair, key=lambda one: one.share, reverse=True)
            return [self._finding(self.level, tall, [tall, short], _tell_pair(tall, short))]
        off = agreement.off
        if len(off) > 1 and len(off) == len(self.implied) and len({one.share > 1 for one in off}) == 1:
            surest = max(off, key=lambda one: abs(log(one.share)) / max(one.sigma, 1e-9))
            return [self._finding(self.level, surest, off, _tell_all(surest, off))]
        beside = self._agreeing(off) if self.panel.eye_height_m is None else []
        by = f"beside {listed([one.name for one in beside])}" if beside else "for the viewer's eye height"
        return [self._finding(self.level, one, [one], _tell_one(one, by), beside) for one in off]

    def _agreeing(self, off: Sequence[Misfit]) -> list[StandingFigure]:
        others = {one.implied.figure.id for one in off}
        return list({one.figure.id: one.figure for one in self.implied if one.figure.id not in others}.values())

    def _finding(self, level: PanelEyeLevel, off: Misfit, shown: Sequence[Misfit], text: str,
                 beside: Sequence[StandingFigure] = ()) -> Finding:
        marks = [eye_level_mark(self.frame, self.panel, level.horizon)]
        marks += [mark(self.frame, "support", [one.crown, one.sole], one.name) for one in beside]
        for one in shown:
            marks += self._marks_of(one, level)
        axes = [(one.implied.figure.sole, one.implied.figure.crown) for one in shown]
        figures = sorted(one.implied.figure.id for one in shown)
        geometry = {"region": box_around(self.frame, axes), "marks": marks, "figures": figures}
        return Finding("height-off", self.panel.id, round(100 * off.share, 1), 100.0, round(100 * self.tolerance, 1), "% of height",
                       _confidence(off, self.tolerance), text, geometry)

    def _marks_of(self, off: Misfit, level: PanelEyeLevel) -> list[dict[str, Any]]:
        """The figure as drawn, and the post on its place that its head should reach."""
        figure = off.implied.figure
        heads = next(one.character.head_count for one in self.figures if one.id == figure.id)
        post = post_at(figure.sole, figure.height_m, level.view(off.eye.height_m), heads=heads, floor_m=figure.floor_m)
        drawn = mark(self.frame, "edge", [figure.crown, figure.sole], f"{off.share - 1:+.0%}")
        should = f"{figure.name} {figure.height_m:.2f} m"
        return [drawn, *post_marks(self.frame, post, should)] if isinstance(post, Post) else [drawn]

    def numbers(self, result: Agreement | NotMeasured) -> dict[str, Any]:
        """What posts are drawn by: the eye height, as given or as the figures have it, and how tall each figure is by it."""
        eye = result.eye if isinstance(result, Agreement) else None
        if eye is None and len(self.implied) == 1:
            one = eye_height_by(self.implied[0])
            eye = one if isinstance(one, EyeHeight) else None
        misfits = [misfit(one, eye) for one in self.implied] if eye else []
        figures = [{"figure": one.implied.figure.id, "height_m": round(one.share * one.implied.figure.height_m, 4),
                    "sigma": round(one.sigma, 4)} for one in misfits if isinstance(one, Misfit)]
        return {"panel": self.panel.id, "eye_height_m": round(eye.height_m, 4) if eye else None,
                "eye_height_is_given": self.panel.eye_height_m is not None, "figures": figures}


def _tell_one(off: Misfit, by: str) -> str:
    figure = off.implied.figure
    drawn_m = f"{off.share * figure.height_m:.2f} m {_give_or_take(off)}"
    return (f"{figure.name} is drawn {_percent(off)} {by}: {drawn_m} where the cast has {figure.height_m:.2f} m. "
            "A reader takes such a figure for someone else, or for one who stands elsewhere. "
            f"Draw the head to the top of the post, or let the figure stand {'nearer' if off.share > 1 else 'further off'}. "
            f"{OR_HATTED if off.share > 1 else OR_NOT_UPRIGHT}")


def _tell_pair(tall: Misfit, short: Misfit) -> str:
    a, b = tall.implied.figure.name, short.implied.figure.name
    return (f"{a} and {b} do not fit on one ground: hung on the eye level, {a} is {_percent(tall)} {_give_or_take(tall)} "
            f"beside {b}. Which of the two is off cannot be told while the viewer's eye height is not known. "
            "Each post shows where a head would reach if the other figure were right: bring one of them to its post, "
            "or give who kneels, bends or sits that posture: such a height is left out.")


def _tell_all(surest: Misfit, off: Sequence[Misfit]) -> str:
    names = listed([one.implied.figure.name for one in off])
    by = f"{abs(surest.share - 1):.0%} {_give_or_take(surest)}"
    return (f"{names} are all too {'tall' if surest.share > 1 else 'short'} for the viewer's eye height, "
            f"{surest.implied.figure.name} by {by}. Where everyone is off to one side, the eye level, or the height given for it, "
            "is more likely off than the figures. Look at it first; if it stands, draw each head to the top of its post.")


def _percent(off: Misfit) -> str:
    return f"{abs(off.share - 1):.0%} too {'tall' if off.share > 1 else 'short'}"


def _give_or_take(off: Misfit) -> str:
    return f"(±{2 * off.sigma:.0%})"


def _confidence(off: Misfit, tolerance: float) -> float:
    """How likely the figure is off by more than half the tolerance, to this side."""
    clear = (abs(log(off.share)) - log(1 + tolerance / 2)) / max(off.sigma, 1e-6)
    return round(min(0.99, (1 + erf(clear / sqrt(2))) / 2), 3)
