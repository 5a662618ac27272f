"""A review sheet as a PDF."""

from pathlib import Path
from tempfile import TemporaryDirectory
from typing import BinaryIO

from reportlab import rl_config
from reportlab.pdfgen.canvas import Canvas

from board.worker.review_sheet import look
from board.worker.review_sheet.front import set_front
from board.worker.review_sheet.page_sheets import set_page
from board.worker.review_sheet.paper import Paper
from board.worker.review_sheet.plate import MANY_PAGES, MANY_PX, SHARP_PX, PlatePicture, picture_of
from board.worker.review_sheet.told import ToldBoard
from board.worker.review_sheet.typefaces import register


def set_review_sheet(told: ToldBoard, file: BinaryIO) -> int:
    """How many sheets it took."""
    register()
    rl_config.useA85 = 0  # pictures as they are, not a quarter longer in letters
    canvas = Canvas(file, pagesize=(look.WIDTH, look.HEIGHT), pageCompression=1, lang="en")
    canvas.setTitle(f"{told.title}: review sheet")
    canvas.setAuthor(told.asked_by)
    canvas.setCreator("Underblue")
    if told.reading == "rtl":
        canvas.setViewerPreference("Direction", "R2L")
    paper = Paper(canvas, told.title)
    with TemporaryDirectory() as folder:
        pictures = _pictures(told, Path(folder))
        set_front(paper, told, pictures)
        for page in told.pages:
            set_page(paper, page, pictures.get(page.page.pk))
    canvas.save()
    return canvas.getPageNumber() - 1


def _pictures(told: ToldBoard, folder: Path) -> dict[int, PlatePicture]:
    """Page id -> its picture."""
    longest_px = MANY_PX if len(told.pages) > MANY_PAGES else SHARP_PX
    read = {one.page.pk: picture_of(one.revision, longest_px, folder) for one in told.pages if one.revision}
    return {pk: picture for pk, picture in read.items() if picture}
