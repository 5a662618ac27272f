"""Cuts a sheet of thumbnails into pages: each part becomes a thumbnail revision of its page."""

from io import BytesIO

from django.contrib.auth import get_user_model
from PIL import Image

from board.access import access_page_to_draw
from board.actions.revisions import receive_revision
from board.models import Job, Revision
from board.page_space import PictureFrame, bounds
from board.worker.decoding import decoded
from board.worker.outcome import Outcome
from board.worker.subjects import sheet_of

# The line around a thumbnail is the edge of its page, no panel of it: left out by this share of the shorter side.
INSIDE_THE_FRAME = 0.015


def handle(job: Job) -> Outcome:
    sheet, user = sheet_of(job), get_user_model().objects.get(pk=job.inputs["by"])
    image = decoded(sheet.picture).image
    parts = [(cut, _part(image, cut["polygon"])) for cut in job.inputs["cuts"]]

    def record() -> None:
        for cut, part in parts:
            seat, page = access_page_to_draw(user, cut["page"])
            origin = {"sheet": sheet.pk, "polygon": cut["polygon"]}
            if Revision.objects.filter(page=page, cut_from=origin).exists():
                continue
            receive_revision(seat=seat, page=page, file=part, stage="thumbnail", file_name=sheet.file_name, cut_from=origin)

    return Outcome({"pages": len(parts)}, record)


def _part(image: Image.Image, polygon: list) -> BytesIO:
    frame = PictureFrame(*image.size)
    left, top, right, bottom = bounds(frame.polygon_to_pixels(polygon))
    edge = INSIDE_THE_FRAME * min(right - left, bottom - top)
    box = (int(left + edge), int(top + edge), int(right - edge) + 1, int(bottom - edge) + 1)
    content = BytesIO()
    image.crop(box).save(content, "PNG")
    content.seek(0)
    return content
