"""The comic as it lies open: page 1 faces nothing, then 2 and 3, 4 and 5; read right to left, mirrored."""

from collections.abc import Sequence
from dataclasses import dataclass

from board.worker.review_sheet.told import ToldPage


@dataclass(frozen=True)
class Spread:
    """`both` is one picture over both pages; else either side may be empty."""

    left: ToldPage | None = None
    right: ToldPage | None = None
    both: ToldPage | None = None


def spreads_of(pages: Sequence[ToldPage], reading: str) -> list[Spread]:
    """In reading order."""
    spreads: list[Spread] = []
    facing: dict[int, list[ToldPage]] = {}
    for told in pages:
        if told.page.is_spread:
            spreads.append(Spread(both=told))
        else:
            facing.setdefault(told.page.number // 2, []).append(told)
    for pair in facing.values():
        even = next((told for told in pair if told.page.number % 2 == 0), None)
        odd = next((told for told in pair if told.page.number % 2 == 1), None)
        spreads.append(Spread(odd, even) if reading == "rtl" else Spread(even, odd))
    return sorted(spreads, key=lambda one: min(told.page.number for told in (one.left, one.right, one.both) if told))
