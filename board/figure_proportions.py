"""Head count and segment ratios from the marks on one figure, exact for a model sheet.

No NumPy here: the web side works them out as a sheet is marked. What a drawn figure in a panel shows, with its errors and
foreshortening, is `vision.proportions`.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from math import dist, hypot

from board.figure_landmarks import SPANS, Span, point_of, sides_of
from board.not_measured import NotMeasured
from board.page_space import Point

LEAST_HEADS, MOST_HEADS = 1.0, 20.0


@dataclass(frozen=True)
class FigureAxis:
    """From the soles to the crown, px. `upright` is the homogeneous point where uprights meet, None where they run parallel."""

    sole: Point
    crown: Point
    upright: tuple[float, float, float] | None = None

    @property
    def length_px(self) -> float:
        return dist(self.sole, self.crown)

    def level(self, point: Point) -> float | None:
        """Height of a point over the soles as a share of the stature; None where the uprights meet within the figure.

        Along an upright, heights go as distance from the soles over distance from the vanishing point, which cancels tilt.
        """
        up = (self.crown[0] - self.sole[0]) / self.length_px, (self.crown[1] - self.sole[1]) / self.length_px
        along = (point[0] - self.sole[0]) * up[0] + (point[1] - self.sole[1]) * up[1]
        meeting, w = self._meeting(up)
        here, at_crown = meeting - w * along, meeting - w * self.length_px
        if here * at_crown <= 0 or meeting * at_crown <= 0:
            return None
        return along / here * at_crown / self.length_px

    def at(self, level: float) -> Point:
        """Where that share of the stature is on the axis: the inverse of `level`."""
        up = (self.crown[0] - self.sole[0]) / self.length_px, (self.crown[1] - self.sole[1]) / self.length_px
        meeting, w = self._meeting(up)
        share = level * self.length_px / (meeting - w * self.length_px)
        along = share * meeting / (1 + share * w)
        return self.sole[0] + along * up[0], self.sole[1] + along * up[1]

    def _meeting(self, up: Point) -> tuple[float, float]:
        """The upright point along the axis, homogeneous: px from the soles, and 0 where it is infinitely far."""
        if self.upright is None:
            return 1.0, 0.0
        x, y, w = self.upright
        return (x - w * self.sole[0]) * up[0] + (y - w * self.sole[1]) * up[1], w


@dataclass(frozen=True)
class FigureProportions:
    """`segments`: name in SPANS -> share as described there. `head_count` is None where the chin is not marked."""

    head_count: float | None
    segments: Mapping[str, float] = field(default_factory=dict)


def measure_proportions(marks_px: Mapping[str, Point], upright: tuple[float, float, float] | None = None,
                        ) -> FigureProportions | NotMeasured:
    """From marks in px of one picture; a page's own fractions will not do, as they are not square."""
    axis = axis_of(marks_px, upright)
    if isinstance(axis, NotMeasured):
        return axis
    measured = {name: measure_span(span, marks_px, axis) for name, span in SPANS.items()}
    head_width = measure_head_width(marks_px, axis)
    known = {name: value for name, value in {**measured, "head-width": head_width}.items() if value is not None}
    return FigureProportions(measure_heads(marks_px, axis), known)


def axis_of(marks_px: Mapping[str, Point], upright: tuple[float, float, float] | None = None) -> FigureAxis | NotMeasured:
    crown, sole = point_of(marks_px, "crown"), point_of(marks_px, "sole")
    if crown is None:
        return NotMeasured("The crown of this figure is not marked.")
    if sole is None:
        return NotMeasured("The soles of this figure are not marked.")
    axis = FigureAxis(sole, crown, upright)
    if axis.length_px <= 0:
        return NotMeasured("Crown and soles are marked at the same place.")
    return axis


def measure_heads(marks_px: Mapping[str, Point], axis: FigureAxis) -> float | None:
    """How many heads, crown to chin, the stature holds."""
    chin = point_of(marks_px, "chin")
    level = None if chin is None else axis.level(chin)
    if level is None or level >= 1:
        return None
    heads = 1 / (1 - level)
    return heads if LEAST_HEADS < heads < MOST_HEADS else None


def measure_span(span: Span, marks_px: Mapping[str, Point], axis: FigureAxis) -> float | None:
    """A share of the stature; None where its landmarks are not marked."""
    if span.kind == "level":
        point = point_of(marks_px, span.ends[0])
        return None if point is None else axis.level(point)
    if span.kind == "limb":
        lengths = [dist(*ends) for ends in limbs(marks_px, span)]
        return max(lengths) / axis.length_px if lengths else None
    sides = sides_of(marks_px, span.ends[0]) if span.kind == "width" and span.ends != ("head",) else None
    return dist(*sides) / axis.length_px if sides else None


def measure_head_width(marks_px: Mapping[str, Point], axis: FigureAxis) -> float | None:
    """Across the head, as a share of its height from crown to chin."""
    sides, chin = sides_of(marks_px, "head"), point_of(marks_px, "chin")
    if sides is None or chin is None:
        return None
    height = hypot(axis.crown[0] - chin[0], axis.crown[1] - chin[1])
    return dist(*sides) / height if height > 0 else None


def limbs(marks_px: Mapping[str, Point], span: Span) -> list[tuple[Point, Point]]:
    """Both ends of a limb, for each side that is marked, or for the one that was marked without a side."""
    names = [tuple(f"{end}{side}" for end in span.ends) for side in ("-left", "-right", "")]
    return [(marks_px[start], marks_px[end]) for start, end in names if start in marks_px and end in marks_px]
