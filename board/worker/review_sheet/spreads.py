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


def spreads_of(pages: Sequence[ToldPage], reading: str) -> list[Spread]:
    """In reading order."""
    spreads = []
    for opening in openings_of([told.page.numbers for told in pages]):
        leaves = [None if leaf.page is None else pages[leaf.page] for leaf in opening.leaves]
        if len(leaves) == 1:
            spreads.append(Spread(both=leaves[0]))
        else:
            left, right = leaves[::-1] if reading == "rtl" else leaves
            spreads.append(Spread(left, right))
    return spreads
