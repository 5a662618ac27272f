"""Decodes a revision for the first time: it becomes ready, or is refused with the reason."""

from board.actions.intake import mark_refused, mark_revision_ready, record_picture_size
from board.models import Job
from board.worker.decoding import decoded
from board.worker.outcome import Outcome
from board.worker.subjects import revision_of


def handle(job: Job) -> Outcome:
    revision = revision_of(job)
    picture = decoded(revision.picture)
    width_px, height_px = picture.size

    def record() -> None:
        record_picture_size(picture=revision.picture, width_px=width_px, height_px=height_px, dpi=picture.dpi)
        mark_revision_ready(revision=revision)

    return Outcome({"width_px": width_px, "height_px": height_px, "dpi": picture.dpi}, record)


def failed(job: Job) -> None:
    mark_refused(uploaded=revision_of(job), reason=job.reason)
