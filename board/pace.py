"""How a comic reads from turn to turn: how much of the page each panel takes, and how many words it asks to be read.

All of it is counted or reckoned from outlines; none of it says whether a page is good.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from statistics import median

from board.page_openings import Opening, openings_of
from board.page_space import Point, Polygon, area, bounds
from board.spoken_words import count_words, spoken_lines

# Brysbaert, M. (2019), "How many words do we read per minute?", Journal of Memory and Language 109, 104047: averages over many
# studies of adults who read English prose silently. They say nothing of looking at pictures.
FICTION_WORDS_A_MINUTE = 260
NON_FICTION_WORDS_A_MINUTE = 238


@dataclass(frozen=True)
class PanelFacts:
    """`polygon` in page coordinates, None where it is not drawn yet; `eye_level`: two points of it; `figures`: crown and soles."""

    id: int = 0
    polygon: Polygon | None = None
    said: str = ""
    eye_level: tuple[Point, Point] | None = None
    figures: tuple[tuple[Point, Point], ...] = ()


@dataclass(frozen=True)
class PageFacts:
    """`panels` in reading order; `said`: on the page as a whole; `shape`: the picture's width by its height."""

    numbers: tuple[int, ...]
    panels: tuple[PanelFacts, ...] = ()
    said: str = ""
    shape: float = 0.7
    id: int = 0
    is_drawn: bool = True


@dataclass(frozen=True)
class PanelPace:
    """`share` of the picture's area; `lines`: the words of each line said. `eye_level`, at the panel's middle and from its top, and
    `figure`, the tallest one marked, are shares of the panel's height."""

    facts: PanelFacts
    order: int
    share: float | None
    lines: tuple[int, ...]
    eye_level: float | None
    figure: float | None

    @property
    def words(self) -> int:
        return sum(self.lines)


@dataclass(frozen=True)
class PagePace:
    facts: PageFacts
    panels: tuple[PanelPace, ...]
    words: int

    @property
    def numbers(self) -> tuple[int, ...]:
        return self.facts.numbers

    @property
    def name(self) -> str:
        return "-".join(str(number) for number in self.numbers)

    @property
    def words_a_number(self) -> float:
        """A spread is two pages to read."""
        return self.words / len(self.numbers)

    @property
    def panels_a_number(self) -> float:
        return len(self.panels) / len(self.numbers)

    @property
    def largest(self) -> PanelPace | None:
        drawn = [panel for panel in self.panels if panel.share]
        return max(drawn, key=lambda panel: panel.share or 0, default=None)

    @property
    def fullest(self) -> PanelPace | None:
        """The panel with most words."""
        spoken = [panel for panel in self.panels if panel.words]
        return max(spoken, key=lambda panel: panel.words, default=None)


@dataclass(frozen=True)
class Turn:
    """`before`: the page that is read last before it, `after`: the one that is seen then; None where that page is missing."""

    before: PagePace | None
    after: PagePace | None


@dataclass(frozen=True)
class ComicPace:
    pages: tuple[PagePace, ...]  # in reading order
    openings: tuple[Opening, ...]
    is_bound: bool = True

    @property
    def words(self) -> int:
        return sum(page.words for page in self.pages)

    @property
    def panels(self) -> int:
        return sum(len(page.panels) for page in self.pages)

    @property
    def numbers(self) -> int:
        """How many pages, a spread being two."""
        return sum(len(page.numbers) for page in self.pages)

    @property
    def fiction_seconds(self) -> float:
        return 60 * self.words / FICTION_WORDS_A_MINUTE

    @property
    def non_fiction_seconds(self) -> float:
        return 60 * self.words / NON_FICTION_WORDS_A_MINUTE

    @cached_property
    def median_words(self) -> float | None:
        """Of the pages with words on."""
        return _median(page.words_a_number for page in self.pages if page.words)

    @cached_property
    def median_panels(self) -> float | None:
        """Of the pages with panels."""
        return _median(page.panels_a_number for page in self.pages if page.panels)

    @cached_property
    def median_largest(self) -> float | None:
        """Of the largest panel's share, over the pages that are drawn."""
        return _median(page.largest.share or 0 for page in self.pages if page.largest)

    @property
    def turns(self) -> list[Turn]:
        """None where the pages are not bound."""
        if not self.is_bound:
            return []
        pairs = zip(self.openings, self.openings[1:], strict=False)
        return [Turn(self._at(before.before_turn), self._at(after.after_turn)) for before, after in pairs]

    def _at(self, place: int | None) -> PagePace | None:
        return None if place is None else self.pages[place]


def pace_of(pages: Iterable[PageFacts], *, is_bound: bool = True) -> ComicPace:
    in_order = tuple(_page(facts) for facts in sorted(pages, key=lambda facts: facts.numbers))
    return ComicPace(in_order, tuple(openings_of([page.numbers for page in in_order], is_bound=is_bound)), is_bound)


def _page(facts: PageFacts) -> PagePace:
    panels = tuple(_panel(panel, order) for order, panel in enumerate(facts.panels, 1))
    return PagePace(facts, panels, sum(_words_of_lines(facts.said)) + sum(panel.words for panel in panels))


def _panel(facts: PanelFacts, order: int) -> PanelPace:
    polygon = facts.polygon
    share = min(1.0, area(polygon)) if polygon else None
    level, figure = (_eye_level(facts.eye_level, polygon), _tallest(facts.figures, polygon)) if polygon else (None, None)
    return PanelPace(facts, order, share, _words_of_lines(facts.said), level, figure)


def _words_of_lines(said: str) -> tuple[int, ...]:
    return tuple(count_words(line.words) for line in spoken_lines(said))


def _eye_level(level: tuple[Point, Point] | None, polygon: Polygon) -> float | None:
    """Under 0 or over 1 where it runs above or below the panel."""
    left, top, right, bottom = bounds(polygon)
    if level is None or bottom <= top:
        return None
    y = level_at(level, (left + right) / 2)
    return None if y is None else (y - top) / (bottom - top)


def level_at(level: tuple[Point, Point], x: float) -> float | None:
    (x0, y0), (x1, y1) = level
    return None if x0 == x1 else y0 + (y1 - y0) * (x - x0) / (x1 - x0)


def _tallest(figures: Sequence[tuple[Point, Point]], polygon: Polygon) -> float | None:
    _, top, _, bottom = bounds(polygon)
    heights = [sole[1] - crown[1] for crown, sole in figures if sole[1] > crown[1]]
    return max(heights) / (bottom - top) if heights and bottom > top else None


def _median(values: Iterable[float]) -> float | None:
    known = list(values)
    return median(known) if known else None
