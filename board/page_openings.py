"""Which pages lie open together: page 1 faces nothing, then 2 and 3, 4 and 5; a spread that is one picture lies open alone.
Pages that are not bound follow one another, each for itself.

As `static/js/geometry/spreads.js` has it, but that nothing is missing here beside an even last page; on the Wall there is room for
the next one. Which side a page lies on is a matter of the reading direction; the order is not.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

Numbers = tuple[int, ...]


@dataclass(frozen=True)
class Leaf:
    """One side of an opening. `page` is its place in what was given; without it, the page of that `number` is missing, and without
    either it is blank."""

    page: int | None = None
    number: int | None = None

    @property
    def is_missing(self) -> bool:
        return self.page is None and self.number is not None


@dataclass(frozen=True)
class Opening:
    """`leaves` in reading order. `gap`: first and last number of the pages missing before it."""

    leaves: tuple[Leaf, ...]
    gap: tuple[int, int] | None

    @property
    def before_turn(self) -> int | None:
        """The page read last here; None where what stands there is missing."""
        return self._end(self.leaves[::-1])

    @property
    def after_turn(self) -> int | None:
        """The page read first here; None where what stands there is missing."""
        return None if self.gap else self._end(self.leaves)

    def _end(self, leaves: Sequence[Leaf]) -> int | None:
        return next((leaf.page for leaf in leaves if leaf.number is not None), None)


def bound_side(number: int, reading: str) -> str:
    """"left" or "right". Page 1 faces nothing: read from the left it lies on the right, and is bound at its left."""
    return "left" if (number % 2 == 1) == (reading == "ltr") else "right"


def openings_of(pages: Sequence[Numbers], *, is_bound: bool = True) -> list[Opening]:
    """`pages`: the numbers of each, one or two, in any order."""
    held = {number for numbers in pages for number in numbers}
    in_order = sorted(range(len(pages)), key=lambda place: pages[place])
    openings, expected = [], 1
    for _, together in groupby(in_order, key=lambda place: _slot(pages[place], is_bound)):
        places = list(together)
        first, last = _range(pages[places[0]], is_bound)
        gap = (expected, first - 1) if first > expected else None
        openings.append(Opening(_leaves(places, pages, held) if is_bound else _alone(places[0], pages), gap))
        expected = max(expected, last + 1)
    return openings


def _slot(numbers: Numbers, is_bound: bool) -> tuple[int, bool]:
    is_alone = len(numbers) > 1 or not is_bound
    return (numbers[0], True) if is_alone else (numbers[0] // 2, False)


def _range(numbers: Numbers, is_bound: bool) -> tuple[int, int]:
    if len(numbers) > 1 or not is_bound:
        return numbers[0], numbers[-1]
    even = numbers[0] // 2 * 2
    return max(1, even), even + 1


def _leaves(places: list[int], pages: Sequence[Numbers], held: set[int]) -> tuple[Leaf, ...]:
    here = {pages[place][0]: place for place in places}
    first = min(here)
    if len(pages[places[0]]) > 1:
        return _alone(places[0], pages)
    even = first // 2 * 2
    return tuple(_leaf(number, here, held) for number in (even, even + 1))


def _alone(place: int, pages: Sequence[Numbers]) -> tuple[Leaf, ...]:
    return (Leaf(place, pages[place][0]),)


def _leaf(number: int, here: dict[int, int], held: set[int]) -> Leaf:
    if number in here:
        return Leaf(here[number], number)
    is_blank = number < 1 or number in held or number > max(held)
    return Leaf() if is_blank else Leaf(number=number)
