"""How a page's picture stands on a sheet: whole, or a strip for scrolling in pieces side by side, cut between its panels."""

from collections.abc import Sequence
from dataclasses import dataclass

from board.worker.review_sheet.marks import Box

TALL = 3.0  # times as high as wide: from there on a picture is a strip
MOST = 12
GAP = 10.0
LEAN = 0.3  # of a piece's height: so far a cut moves to stand between two panels
Span = tuple[float, float]  # from and to, shares of the picture's height


@dataclass(frozen=True)
class Piece:
    """What stands in `box` of the picture: from `first` to `last`, shares of its height."""

    box: Box
    first: float
    last: float

    @property
    def whole(self) -> Box:
        """Where the whole picture would stand."""
        left, bottom, right, top = self.box
        high = (top - bottom) / (self.last - self.first)
        return left, top + self.first * high - high, right, top + self.first * high

    def place(self, point: Sequence[float]) -> tuple[float, float]:
        """Page coordinates -> points on the sheet."""
        left, bottom, right, top = self.whole
        return left + point[0] * (right - left), top - point[1] * (top - bottom)


def how_many(tall: float, across: float, high: float) -> int:
    """In so many pieces it stands largest. `tall`: its height over its width."""
    if tall <= TALL:
        return 1
    return max(range(1, MOST + 1), key=lambda count: _wide(count, across, high, tall / count))


def pieces_of(tall: float, panels: Sequence[Span], left: float, top: float, across: float, high: float) -> list[Piece]:
    """From the left: a strip is read down, and then on to the next."""
    count = how_many(tall, across, high)
    cuts = [0.0, *_cuts(count, panels), 1.0]
    spans = list(zip(cuts, cuts[1:], strict=False))
    wide = _wide(count, across, high, tall * max(last - first for first, last in spans))
    lefts = [left + place * (wide + GAP) for place in range(count)]
    return [Piece((x, top - (last - first) * tall * wide, x + wide, top), first, last)
            for x, (first, last) in zip(lefts, spans, strict=True)]


def _wide(count: int, across: float, high: float, tall: float) -> float:
    """`tall`: of the tallest piece."""
    return min((across - (count - 1) * GAP) / count, high / tall)


def _cuts(count: int, panels: Sequence[Span]) -> list[float]:
    """Evenly, or in the middle between two panels that are near there."""
    between, reached = [], 0.0
    for first, last in sorted(panels):
        if first > reached > 0:
            between.append((reached + first) / 2)
        reached = max(reached, last)
    return [_nearest(place / count, between, LEAN / count) for place in range(1, count)]


def _nearest(cut: float, between: Sequence[float], reach: float) -> float:
    near = min(between, key=lambda one: abs(one - cut), default=cut)
    return near if abs(near - cut) <= reach else cut
