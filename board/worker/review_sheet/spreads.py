"""The comic as it lies open, side by side; read right to left, mirrored."""

from collections.abc import Sequence
from dataclasses import dataclass

from board.page_openings import openings_of
from board.worker.review_sheet.told import ToldPage


@dataclass(frozen=True)
class Spread:
    """`both` is one picture over both pages; else either side may be empty."""

    left: ToldPage | None = None
    right: ToldPage | None = None
    both: ToldPage | None = None


def spreads_of(pages: Sequence[ToldPage], reading: str, *, is_bound: bool = True) -> list[Spread]:
    """In reading order. Pages that are not bound stand two by two, since there is room for them so."""
    if not is_bound:
        return _two_by_two(pages, reading)
    spreads = []
    for opening in openings_of([told.page.numbers for told in pages]):
        leaves = [None if leaf.page is None else pages[leaf.page] for leaf in opening.leaves]
        if len(leaves) == 1:
            spreads.append(Spread(both=leaves[0]))
        else:
            spreads.append(_side_by_side(leaves[0], leaves[1], reading))
    return spreads


def _two_by_two(pages: Sequence[ToldPage], reading: str) -> list[Spread]:
    spreads: list[Spread] = []
    before: ToldPage | None = None  # waits for the one that stands beside it
    for told in pages:
        if told.page.is_spread:
            spreads += [*([_side_by_side(before, None, reading)] if before else []), Spread(both=told)]
            before = None
        elif before:
            spreads.append(_side_by_side(before, told, reading))
            before = None
        else:
            before = told
    return [*spreads, _side_by_side(before, None, reading)] if before else spreads


def _side_by_side(first: ToldPage | None, second: ToldPage | None, reading: str) -> Spread:
    return Spread(second, first) if reading == "rtl" else Spread(first, second)
