"""A page as an outline: its panels, ruled as lettering would fill them, each panel's eye level and tallest figure. Lengths in
hundredths of one page's width."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from board.pace import PagePace, PanelPace
from board.page_space import Point, area
from board.perspective_grid import Segment, clip_to_polygon

WORDS_ACROSS = 15  # as many words as rules reach across a page for
RULE_GAP, LEAST_RULE_GAP = 2.6, 0.9
MARGIN = 2.5
FILLED = 0.75  # of a panel, before its rules move together
NARROWEST, WIDEST = 0.2, 5.0  # a picture of any other shape is drawn as if it had this


@dataclass(frozen=True)
class PanelOutline:
    points: str
    rules: str
    level: str
    figure: str
    head: tuple[str, str, str] | None


@dataclass(frozen=True)
class PageOutline:
    width: int
    height_units: float
    panels: tuple[PanelOutline, ...]

    @property
    def height(self) -> str:
        return _n(self.height_units)

    @property
    def box_height(self) -> str:
        """With a unit above and below for the outline itself."""
        return _n(self.height_units + 2)

    @property
    def middle(self) -> tuple[str, str]:
        return _n(self.width / 2), _n(self.height_units / 2)


def outline_of(page: PagePace) -> PageOutline:
    width = 100 * len(page.numbers)
    height = width / min(WIDEST, max(NARROWEST, page.facts.shape))
    drawn = (panel for panel in page.panels if panel.facts.polygon)
    return PageOutline(width, height, tuple(_panel(panel, (width, height)) for panel in drawn))


def _panel(panel: PanelPace, size: tuple[float, float]) -> PanelOutline:
    polygon = [_scaled(point, size) for point in panel.facts.polygon or ()]
    level = panel.facts.eye_level
    return PanelOutline(
        " ".join(f"{_n(x)},{_n(y)}" for x, y in polygon), "".join(_rules(panel.words, polygon)),
        _path(_through(_scaled(level[0], size), _scaled(level[1], size), polygon)) if level else "", *_figure(panel, size),
    )


def _rules(words: int, polygon: Sequence[Point]) -> Iterator[str]:
    """Pieces of a path, from the panel's top down, until all words have had their length. A long comic has ten thousands."""
    left_over = 100 / WORDS_ACROSS * words
    gap = min(RULE_GAP, max(LEAST_RULE_GAP, FILLED * area(polygon) / left_over)) if words else RULE_GAP
    y, bottom = min(point[1] for point in polygon) + max(gap, MARGIN), max(point[1] for point in polygon) - MARGIN / 2
    while left_over > 0 and y < bottom:
        for left, right in _across(y, polygon):
            length = min(right - left - 2 * MARGIN, left_over)
            if length > 0:
                yield f"M{_n(left + MARGIN)} {_n(y)}h{_n(length)}"
                left_over -= length
        y += gap


def _across(y: float, polygon: Sequence[Point]) -> Iterator[tuple[float, float]]:
    """From where to where the polygon, which may be hollow, is crossed at this height."""
    sides = zip(polygon, [*polygon[1:], *polygon[:1]], strict=True)
    crossings = sorted(x0 + (y - y0) / (y1 - y0) * (x1 - x0) for (x0, y0), (x1, y1) in sides if (y0 > y) != (y1 > y))
    return zip(crossings[::2], crossings[1::2], strict=True)


def _through(a: Point, b: Point, polygon: Sequence[Point]) -> Iterator[Segment]:
    line = a[1] - b[1], b[0] - a[0], a[0] * b[1] - b[0] * a[1]
    return clip_to_polygon(line, polygon)


def _figure(panel: PanelPace, size: tuple[float, float]) -> tuple[str, tuple[str, str, str] | None]:
    figures = [figure for figure in panel.facts.figures if figure[1][1] > figure[0][1]]
    if not figures:
        return "", None
    (x0, y0), (x1, y1) = (_scaled(point, size) for point in max(figures, key=lambda figure: figure[1][1] - figure[0][1]))
    radius = (y1 - y0) / 14
    return _path([((x0, y0 + 2 * radius), (x1, y1))]), (_n(x0), _n(y0 + radius), _n(radius))


def _path(segments: Iterator[Segment] | Sequence[Segment]) -> str:
    return "".join(f"M{_n(x0)} {_n(y0)}L{_n(x1)} {_n(y1)}" for (x0, y0), (x1, y1) in segments)


def _scaled(point: Point, size: tuple[float, float]) -> Point:
    return point[0] * size[0], point[1] * size[1]


def _n(length: float) -> str:
    return f"{length:.1f}".removesuffix(".0")
