"""The front: title, date, stages, open notes by tone, the comic at a glance, and the rubric of what was set."""

from collections.abc import Mapping

from django.utils import timezone

from board.stages.order import STAGES
from board.worker.review_sheet import look
from board.worker.review_sheet.columns import Column, set_blocks
from board.worker.review_sheet.marks import stage_mark
from board.worker.review_sheet.notes import note_blocks, rubric_blocks
from board.worker.review_sheet.paper import ACROSS, BOTTOM, LEFT, TOP, Paper
from board.worker.review_sheet.plate import PlatePicture
from board.worker.review_sheet.spreads import Spread, spreads_of
from board.worker.review_sheet.told import ToldBoard, ToldPage
from board.worker.review_sheet.typefaces import BOLD, NO_LETTER, TEXT, all_have_a_face

IN_A_ROW, ROW_HIGH, BELOW = 4, 132.0, 44.0
LEAST_BELOW = 44.0  # a number and a stage mark beside each other
WIDE = (ACROSS - (IN_A_ROW - 1) * look.GAP) / IN_A_ROW
SOME_LETTERS_LACK = (f"{NO_LETTER} stands for a letter that the typefaces of this sheet lack: they hold Latin, Greek and Cyrillic, "
                     "and Chinese, Japanese and Korean by your reader's own. Such notes are read in full on the board.")
Pictures = Mapping[int, PlatePicture]  # by page


def set_front(paper: Paper, told: ToldBoard, pictures: Pictures) -> None:
    paper.mark_place("front", "At a glance")
    y = _at_a_glance(paper, told, pictures, _title(paper, told))
    blocks = [*rubric_blocks(told.rubric), *note_blocks(told.notes)]
    if blocks:
        y = paper.row_ends(y, 60)
        set_blocks(paper, [Column(LEFT, BOTTOM, ACROSS, y - BOTTOM)], blocks, lambda: TOP)
    paper.end_sheet()


def place_of(told: ToldPage) -> str:
    return f"page-{told.page.pk}"


def _title(paper: Paper, told: ToldBoard) -> float:
    """Where the rest begins."""
    paper.words(LEFT, TOP - 22, told.title, BOLD, 24, look.GRAPHITE, ACROSS)
    at, which = timezone.localtime(told.at), "all notes" if told.shows_all else "notes that wait for somebody"
    by = f"Drawn by {told.drawn_by}. " if told.drawn_by else ""
    words = f"{by}Review sheet of {at.day} {at:%B %Y}, {at:%H:%M}, as {told.asked_by} sees it; {which}"
    paper.words(LEFT, TOP - 40, words, TEXT, 10.5, look.SOFT, ACROSS)
    if not all(map(all_have_a_face, told.words())):
        paper.words(LEFT, TOP - 52, SOME_LETTERS_LACK, TEXT, 9, look.SOFT, ACROSS)
    y = TOP - 70
    paper.tally(_stages(paper, told, y) + 8, y, told.tally(), 10)
    paper.rule(y - 12, is_firm=True)
    paper.rule(y - 14, is_firm=True)
    return y - 30


def _stages(paper: Paper, told: ToldBoard, y: float) -> float:
    x = LEFT
    for stage in STAGES:
        pages = [one.page for one in told.pages if one.page.stage == stage]
        if pages:
            stage_mark(paper.canvas, stage, x, y + 3)
            finished = sum(bool(page.finished_at) for page in pages)
            words = f"{len(pages)} {stage}" + (f" ({finished} finished)" if finished else "")
            x = paper.words(x + 31, y, words, TEXT, 10, look.GRAPHITE) + 16
    return x


def _at_a_glance(paper: Paper, told: ToldBoard, pictures: Pictures, y: float) -> float:
    """Spreads in rows, in reading order: from the right where the comic is read from there."""
    spreads = spreads_of(told.pages, told.reading, is_bound=told.is_bound)
    for first in range(0, len(spreads), IN_A_ROW):
        y = paper.row_ends(y, ROW_HIGH)
        for place, spread in enumerate(spreads[first : first + IN_A_ROW]):
            column = IN_A_ROW - 1 - place if told.reading == "rtl" else place
            _spread(paper, spread, pictures, LEFT + column * (WIDE + look.GAP), y)
        y -= ROW_HIGH
    return y


def _spread(paper: Paper, spread: Spread, pictures: Pictures, x: float, y: float) -> None:
    for told, left, wide in ((spread.both, x, WIDE), (spread.left, x, WIDE / 2), (spread.right, x + WIDE / 2, WIDE / 2)):
        if told:
            _leaf(paper, told, pictures.get(told.page.pk), left, y, wide)


def _leaf(paper: Paper, told: ToldPage, picture: PlatePicture | None, x: float, y: float, wide: float) -> None:
    canvas, high = paper.canvas, ROW_HIGH - BELOW
    across, down = picture.fitted(wide - 2, high) if picture else (wide - 6, high)
    left, bottom = x + (wide - across) / 2, y - high
    if picture:
        picture.draw(canvas, left, bottom, across, down)
    canvas.setStrokeColor(look.FAINT)
    canvas.setLineWidth(0.5)
    canvas.setDash([] if picture else [2, 2])
    canvas.rect(left, bottom, across, down, fill=0)
    canvas.setDash([])
    canvas.linkRect("", place_of(told), (left, bottom, left + across, bottom + down), relative=0)
    below = max(across, LEAST_BELOW)  # a strip is narrower than what stands under it
    left += (across - below) / 2
    paper.words(left, bottom - 10, told.page.numbers_text, BOLD, 9, look.GRAPHITE)
    stage_mark(canvas, told.page.stage, left + below - 22, bottom - 7, 15)
    paper.tally(left, bottom - 22, told.tally(), 7.5, is_short=True)
