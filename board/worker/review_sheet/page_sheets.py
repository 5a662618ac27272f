"""A page of the comic on as many sheets as its notes need: the picture first, notes beside and below it."""

from django.utils import timezone

from board.page_space import bounds
from board.worker.review_sheet import look
from board.worker.review_sheet.columns import WIDE, Column, set_blocks, two_columns
from board.worker.review_sheet.front import place_of
from board.worker.review_sheet.marks import stage_mark
from board.worker.review_sheet.notes import note_blocks
from board.worker.review_sheet.paper import ACROSS, BOTTOM, LEFT, RIGHT, TOP, Paper
from board.worker.review_sheet.pieces import pieces_of
from board.worker.review_sheet.plate import HIGH, HIGH_ALONE, PlatePicture, draw_plate
from board.worker.review_sheet.told import ToldPage
from board.worker.review_sheet.typefaces import BOLD, ITALIC, TEXT

HEAD_HIGH, MORE_HEAD_HIGH = 54.0, 42.0
LEAST_BESIDE = 150.0  # a column narrower than this is no column


def set_page(paper: Paper, told: ToldPage, picture: PlatePicture | None) -> None:
    paper.mark_place(place_of(told), f"Page {told.page.numbers_text}")
    _head(paper, told)
    top = TOP - HEAD_HIGH
    if picture is None:
        paper.words(LEFT, top - 14, "No picture is read here yet.", ITALIC, 10, look.SOFT)
        columns = two_columns(top - 30)
    else:
        panels = [bounds(shape.polygon)[1::2] for shape in told.panels]
        pieces = pieces_of(picture.tall, panels, LEFT, top, ACROSS, HIGH if told.notes else HIGH_ALONE)
        draw_plate(paper.canvas, told, picture, pieces)
        columns = _beside_and_below(pieces[-1].box[2] - LEFT, top - min(piece.box[1] for piece in pieces), top)
    set_blocks(paper, columns, note_blocks(told.notes), lambda: _more_head(paper, told))
    paper.end_sheet()


def _beside_and_below(across: float, down: float, top: float) -> list[Column]:
    beside, columns = ACROSS - across - look.GAP, []
    if beside >= LEAST_BESIDE:
        columns.append(Column(LEFT + across + look.GAP, top - down, beside, down))
    below = top - down - look.GAP - BOTTOM
    return [*columns, Column(LEFT, BOTTOM, WIDE, below), Column(RIGHT - WIDE, BOTTOM, WIDE, below)]


def _head(paper: Paper, told: ToldPage) -> None:
    page, y = told.page, TOP - 16
    x = paper.words(LEFT, y, f"Page {page.numbers_text}", BOLD, 17, look.GRAPHITE)
    stage_mark(paper.canvas, page.stage, x + 14, y + 4)
    paper.words(x + 46, y, _standing(told), TEXT, 10, look.SOFT, RIGHT - x - 46)
    paper.tally(LEFT, y - 16, told.tally(), 9)
    paper.rule(y - 22)


def _standing(told: ToldPage) -> str:
    """Stage, revision, and whom it waits for."""
    page, revision, words = told.page, told.revision, told.page.stage
    if revision:
        uploaded = timezone.localtime(revision.uploaded_at)
        of_stage = f" ({revision.stage})" if revision.stage != page.stage else ""
        words += f", revision {revision.number} of {uploaded.day} {uploaded:%b %Y}{of_stage}"
    panels = "".join(f", {count} of its panels {state}" for state, count in told.panel_states().items())
    panels += "".join(f", try {letter} chosen at panel {order}" for order, letter in told.tries)
    return f"{words}; {'finished' if page.waits_for == 'nobody' else f'waits for the {page.waits_for}'}{panels}"


def _more_head(paper: Paper, told: ToldPage) -> float:
    """Of a further sheet; where its columns begin."""
    y = TOP - 16
    x = paper.words(LEFT, y, f"Page {told.page.numbers_text}", BOLD, 17, look.GRAPHITE)
    paper.words(x + 8, y, "continued", ITALIC, 10, look.SOFT)
    paper.rule(y - 10)
    return TOP - MORE_HEAD_HIGH
