"""Looks for the thumbnails on a sheet. What is found is a proposal: people say which is which page."""

from board.actions.intake import mark_ready, mark_refused, record_picture_size, record_renditions
from board.models import Job
from board.page_space import PictureFrame
from board.vision.panel_frames import find_panels
from board.vision.sheet_pages import pages_on_sheet
from board.worker.decoding import decoded
from board.worker.outcome import Outcome
from board.worker.renditions import make_renditions
from board.worker.subjects import sheet_of


def handle(job: Job) -> Outcome:
    sheet = sheet_of(job)
    picture = decoded(sheet.picture)
    frame = PictureFrame(*picture.size)
    layout = find_panels(picture.gray, reading=sheet.board.reading)
    trim = sheet.board.format
    pages = pages_on_sheet(layout.panels, trim.trim_width_mm / trim.trim_height_mm, sheet.board.reading)
    found = [{"polygon": [list(point) for point in frame.polygon_to_page(polygon.tolist())]} for polygon in pages]
    sizes = make_renditions(sheet.picture, picture.image)

    def record() -> None:
        record_picture_size(picture=sheet.picture, width_px=picture.size[0], height_px=picture.size[1], dpi=picture.dpi)
        record_renditions(picture=sheet.picture, sizes=sizes)
        mark_ready(uploaded=sheet, found=found)

    return Outcome({"found": len(found)}, record)


def failed(job: Job) -> None:
    mark_refused(uploaded=sheet_of(job), reason=job.reason)
