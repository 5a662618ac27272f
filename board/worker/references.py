"""Decodes a reference and makes its renditions."""

from board.actions.intake import mark_ready, mark_refused, record_picture_size, record_renditions
from board.models import Job
from board.worker.decoding import decoded
from board.worker.outcome import Outcome
from board.worker.renditions import make_renditions
from board.worker.subjects import reference_of


def handle(job: Job) -> Outcome:
    reference = reference_of(job)
    picture = decoded(reference.picture)
    sizes = make_renditions(reference.picture, picture.image)

    def record() -> None:
        record_picture_size(picture=reference.picture, width_px=picture.size[0], height_px=picture.size[1], dpi=picture.dpi)
        record_renditions(picture=reference.picture, sizes=sizes)
        mark_ready(uploaded=reference)

    return Outcome({"size_px": list(picture.size)}, record)


def failed(job: Job) -> None:
    mark_refused(uploaded=reference_of(job), reason=job.reason)
