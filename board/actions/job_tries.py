from django.db import transaction

from board.access import Seat
from board.actions.events import write_event
from board.actions.jobs import queue_job
from board.errors import NotPossibleNow
from board.models import Job
from board.models.job import FAILED


@transaction.atomic
def try_job_again(*, seat: Seat, job: Job) -> Job:
    """Only a failed job: the others are done, or will be."""
    if job.state != FAILED:
        raise NotPossibleNow("Only work that failed can be tried again.")
    page = job.revision.page if job.revision else None
    write_event(board=seat.board, kind="job-tried-again", actor=seat.user, page=page, job=job.pk)
    return queue_job(
        board=seat.board, kind=job.kind, key=job.key, inputs=job.inputs, check_id=job.check_id, revision=job.revision,
        sheet=job.sheet, reference=job.reference, underlay=job.underlay, force=True,
    )
