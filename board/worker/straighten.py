"""Lays a photographed page flat. The photograph stays as it came; what is measured is the flat picture."""

from io import BytesIO

import numpy as np
from django.conf import settings
from PIL import Image

from board.actions.intake import mark_refused
from board.actions.photographs import record_straightened
from board.errors import PictureRefused
from board.models import Job
from board.not_measured import NotMeasured
from board.page_space import PictureFrame
from board.vision.straightening import straighten
from board.worker.decoding import decoded
from board.worker.outcome import Outcome
from board.worker.subjects import photograph_of


def handle(job: Job) -> Outcome:
    revision, photograph = photograph_of(job)
    picture = decoded(photograph)
    corners_px = PictureFrame(*picture.size).polygon_to_pixels(job.inputs["corners"])
    flat = straighten(np.asarray(picture.image), np.array(corners_px), settings.UPLOAD_LIMITS.longest_side_px)
    if isinstance(flat, NotMeasured):
        raise PictureRefused(f"{flat.reason} Set the corners again and upload it once more.")
    content = BytesIO()
    Image.fromarray(flat).save(content, "PNG")

    def record() -> None:
        record_straightened(revision=revision, file=content)

    return Outcome({"size_px": [flat.shape[1], flat.shape[0]]}, record)


def failed(job: Job) -> None:
    mark_refused(uploaded=photograph_of(job)[0], reason=job.reason)
