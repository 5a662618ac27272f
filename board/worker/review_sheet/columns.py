"""Sets blocks of words into columns: first the room beside and below a picture, then two columns on each further sheet."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from reportlab.platypus import Flowable

from board.worker.review_sheet import look
from board.worker.review_sheet.paper import ACROSS, BOTTOM, LEFT, RIGHT, Paper

WIDE = (ACROSS - look.GAP) / 2
LEAST_HIGH = 40.0
STAYS_WITH_HEAD = 40.0  # about three lines


@dataclass
class Column:
    left: float
    bottom: float
    wide: float
    room: float  # of its height


def two_columns(top: float) -> list[Column]:
    return [Column(LEFT, BOTTOM, WIDE, top - BOTTOM), Column(RIGHT - WIDE, BOTTOM, WIDE, top - BOTTOM)]


def set_blocks(
    paper: Paper, columns: Iterable[Column], blocks: Iterable[Sequence[Flowable]], begin_sheet: Callable[[], float]
) -> None:
    """`begin_sheet` draws the head of a further sheet, and says where its columns begin."""
    following = _columns(paper, columns, begin_sheet)
    column: Column | None = None
    for block in blocks:
        column = column or next(following)
        if _least_high(paper, block, column.wide) > column.room:
            column = next(following)
        waiting = list(block)
        while waiting:
            waiting, is_full = _set_first(paper, waiting, column)
            column = next(following) if is_full else column


def _columns(paper: Paper, columns: Iterable[Column], begin_sheet: Callable[[], float]) -> Iterator[Column]:
    yield from (column for column in columns if column.room > LEAST_HIGH)
    while True:
        paper.end_sheet()
        yield from two_columns(begin_sheet())


def _set_first(paper: Paper, waiting: list[Flowable], column: Column) -> tuple[list[Flowable], bool]:
    """What still waits, and whether the column is full."""
    first, rest = waiting[0], waiting[1:]
    _, high = first.wrapOn(paper.canvas, column.wide, column.room)
    if high <= column.room:
        first.drawOn(paper.canvas, column.left, column.bottom + column.room - high)
        column.room -= high
        return rest, False
    parts = first.splitOn(paper.canvas, column.wide, column.room)
    return ([*parts, *rest], False) if len(parts) > 1 else (waiting, True)


def _least_high(paper: Paper, block: Sequence[Flowable], wide: float) -> float:
    """A head, and the first lines of what it heads."""
    return sum(min(one.wrapOn(paper.canvas, wide, 1e6)[1], STAYS_WITH_HEAD) for one in block[:4])
