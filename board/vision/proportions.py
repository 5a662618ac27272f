"""Proportions of one drawn figure, each with its error, and with what a picture foreshortens left out.

The rules of foreshortening:
1. Head count and levels are read from standing figures only, along the upright, tilt taken out by the upright point; not from
   figures that lean by more than 6°, nor from views tilted by more than 20°.
2. Chin, eyes and knees stand before the axis from soles to crown: looked at from above or below they shift, and their error grows.
3. Lengths of limbs and widths are read in views tilted by 10° at most. A limb may point at the viewer and shoulders may be turned,
   which only shortens them: longer than on the sheet is a fault, shorter is not measured.
4. The width of a head is read where its view is known, or where the sheet has both front and side.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from math import dist, hypot

from board.figure_landmarks import SPANS, Span, point_of
from board.figure_proportions import FigureAxis, axis_of, measure_head_width, measure_heads, measure_span
from board.not_measured import NotMeasured
from board.page_space import Point
from board.vision.eye_level import MOST_LEAN_DEG, PanelEyeLevel

MOST_TILT_DEG = 20.0
MOST_TILT_ACROSS_DEG = 10.0  # beyond this an upright is shorter by over 1.5 % than a width at its place
# Half the depth of a head is .055 of the stature (from memory; no landmark stands further before the axis): three sigmas.
DEPTH_SIGMA = 0.055 / 3
UNKNOWN_SLOPE = 0.1  # where no eye level is known
STANDING = ("standing", "far")

Marks = Mapping[str, Point]
Measure = Callable[[Marks], float | None]


@dataclass(frozen=True)
class Measured:
    """`sigma` is one sigma; `only_long`: foreshortening may have shortened it, so only longer than expected means anything."""

    value: float
    sigma: float
    only_long: bool = False


@dataclass(frozen=True)
class MeasuredFigure:
    """`heads` is None, with its reason in `left_out`, where it was not measured. `segments`: name in SPANS -> share."""

    axis: FigureAxis
    heads: Measured | None = None
    segments: Mapping[str, Measured] = field(default_factory=dict)
    left_out: Mapping[str, str] = field(default_factory=dict)


def click_sigmas(marks_px: Marks, click: float, stated: Mapping[str, float]) -> dict[str, float]:
    """px, from shares of the figure's height: `click` for a mark of which nothing is known, `stated` for those snapped or carried.

    A chin clicked by eye tells the head within 15 % and so next to nothing: a head count needs marks that were set exactly.
    """
    crown, sole = point_of(marks_px, "crown"), point_of(marks_px, "sole")
    tall_px = dist(crown, sole) if crown and sole else 0.0
    return {name: stated.get(name, click) * tall_px for name in marks_px}


def measure_figure(marks_px: Marks, sigmas_px: Mapping[str, float], *, level: PanelEyeLevel | None = None,
                   pose: str = "standing") -> MeasuredFigure | NotMeasured:
    """`marks_px` in px of the page, `sigmas_px` one sigma of each; `level` None where the panel has no eye level."""
    if pose not in STANDING:
        drawn = "bent" if pose == "crouching" else pose
        return NotMeasured(f"A figure that is {drawn} is foreshortened: its proportions are not measured.")
    axis = axis_of(marks_px, level.upright if level else None)
    if isinstance(axis, NotMeasured):
        return axis
    tilt_deg = level.tilt_deg if level else 0.0
    if tilt_deg > MOST_TILT_DEG + 0.5:
        return NotMeasured(f"The view is tilted by {tilt_deg:.0f}°: figures in it are foreshortened.")
    if level and level.leans(axis.sole, axis.crown):
        return NotMeasured(f"The figure leans from the uprights by more than {MOST_LEAN_DEG:.0f}°: it is bent and so "
                           "foreshortened, or the uprights are not where they were found.")
    ruler = _Ruler(marks_px, sigmas_px, level)
    heads = ruler.heads()
    if tilt_deg > MOST_TILT_ACROSS_DEG:
        across, why = {}, {"across": f"The view is tilted by {tilt_deg:.0f}°: limbs and widths are foreshortened."}
    else:
        across, why = ruler.across(), {}
    left_out = why if heads else {**why, "heads": "The chin is not marked, or the head is not between chin and crown."}
    return MeasuredFigure(axis, heads, {**ruler.levels(), **across}, left_out)


@dataclass(frozen=True)
class _Ruler:
    marks: Marks
    sigmas: Mapping[str, float]
    level: PanelEyeLevel | None

    def heads(self) -> Measured | None:
        measured = self._measure(lambda marks, upright: measure_heads(marks, _axis(marks, upright)))
        if measured is None:
            return None
        # heads = 1 / (1 - chin's level), so a level's error counts heads² times.
        return Measured(measured.value, hypot(measured.sigma, measured.value**2 * self._depth_sigma()))

    def levels(self) -> dict[str, Measured]:
        found = {name: self._span(span) for name, span in SPANS.items() if span.kind == "level"}
        return {name: Measured(one.value, hypot(one.sigma, self._depth_sigma())) for name, one in found.items() if one}

    def across(self) -> dict[str, Measured]:
        found = {name: self._span(span) for name, span in SPANS.items() if span.kind in ("limb", "width")}
        only_long = {name: Measured(one.value, one.sigma, True) for name, one in found.items() if one}
        head = self._measure(lambda marks, upright: measure_head_width(marks, _axis(marks, upright)))
        return {**only_long, "head-width": head} if head else only_long

    def _span(self, span: Span) -> Measured | None:
        return self._measure(lambda marks, upright: measure_span(span, marks, _axis(marks, upright)))

    def _depth_sigma(self) -> float:
        crown = point_of(self.marks, "crown")
        return DEPTH_SIGMA * (self.level.slope_at(crown) if self.level and crown else UNKNOWN_SLOPE)

    def _measure(self, measure: Callable[[Marks, tuple | None], float | None]) -> Measured | None:
        """The value, and how far each mark's sigma, sideways and up, and the upright point's error move it."""
        upright = self.level.upright if self.level else None
        value = measure(self.marks, upright)
        if value is None:
            return None
        moved = [measure(marks, upright) for marks in self._disturbed()]
        squares = [(one - value) ** 2 for one in moved if one is not None]
        if len(squares) < len(moved):
            return None
        plain = measure(self.marks, None)
        by_upright = (plain - value) * self.level.upright_error if self.level and plain is not None else 0.0
        return Measured(value, hypot(sum(squares) ** 0.5, by_upright))

    def _disturbed(self) -> list[Marks]:
        moves = [(name, dx, dy) for name, sigma in self.sigmas.items() for dx, dy in ((sigma, 0.0), (0.0, sigma))]
        return [{**self.marks, name: (self.marks[name][0] + dx, self.marks[name][1] + dy)} for name, dx, dy in moves]


def _axis(marks: Marks, upright: tuple[float, float, float] | None) -> FigureAxis:
    axis = axis_of(marks, upright)
    assert isinstance(axis, FigureAxis), "a moved mark cannot take away crown or soles"
    return axis
