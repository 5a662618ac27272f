"""A review sheet as a PDF."""

from typing import BinaryIO

from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas

from board.worker.review_sheet import look
from board.worker.review_sheet.front import set_front
from board.worker.review_sheet.page_sheets import set_page
from board.worker.review_sheet.paper import Paper
from board.worker.review_sheet.plate import MANY_PAGES, MANY_PX, SHARP_PX, picture_of
from board.worker.review_sheet.told import ToldBoard
from board.worker.review_sheet.typefaces import register


def set_review_sheet(told: ToldBoard, file: BinaryIO) -> int:
    """How many sheets it took."""
    register()
    canvas = Canvas(file, pagesize=(look.WIDTH, look.HEIGHT), pageCompression=1, lang="en")
    canvas.setTitle(f"{told.title}: review sheet")
    canvas.setAuthor(told.asked_by)
    canvas.setCreator("Underblue")
    if told.reading == "rtl":
        canvas.setViewerPreference("Direction", "R2L")
    paper, pictures = Paper(canvas, told.title), _pictures(told)
    set_front(paper, told, pictures)
    for page in told.pages:
        set_page(paper, page, pictures.get(page.page.pk))
    canvas.save()
    return canvas.getPageNumber() - 1


def _pictures(told: ToldBoard) -> dict[int, ImageReader]:
    """Page id -> its picture, which stands in the file once, however often it is drawn."""
    longest_px = MANY_PX if len(told.pages) > MANY_PAGES else SHARP_PX
    read = {one.page.pk: picture_of(one.revision, longest_px) for one in told.pages if one.revision}
    return {pk: picture for pk, picture in read.items() if picture}
