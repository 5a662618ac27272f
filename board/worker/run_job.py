"""Claim a row, do its work, record its end; then the other rows that wait on the same revision, from the same decode.

Between any two rows uploads that nobody has read yet go first: messages come in the order in which they were sent, and a whole
comic that is measured again would keep a new picture waiting.
"""

import errno
import logging
import time
from collections.abc import Iterable

from django.conf import settings
from django.db import transaction

from board.actions.jobs import claim_job, fail_job, finish_job, give_job_back, hold_subject, job_not_measured, retry_or_fail_job
from board.actions.row_locks import is_deadlock
from board.actions.send_job import keeping
from board.check_registry import CHECKS
from board.errors import BoardError
from board.models import Job
from board.models.job import JOB_KINDS, QUEUED
from board.not_measured import NotMeasured
from board.worker.handlers import HANDLERS, load, tell_failed
from board.worker.job_watch import JobNotWanted, JobTooSlow, JobWatch, stoppable, too_slow, watched
from board.worker.memory_limit import is_out_of_memory, memory_limit
from board.worker.outcome import Outcome
from board.worker.picture_at_hand import put_away

logger = logging.getLogger(__name__)
# People see the page first, then where its panels are, then their own notes on them, then what else was measured.
KIND_ORDER = ("intake", "renditions", "carry-notes", "check")
CHECK_ORDER = list(CHECKS)
READING = ("straighten", "intake", "sheet", "reference")
TO_BE_SEEN = ("intake", "renditions")


def run_job(job_id: int) -> None:
    """Does nothing with the row when another worker has it, or had it."""
    # This process is ended after MESSAGE_SECONDS, which the row's own work may need: reading gets no more than one row may take.
    until = time.monotonic() + settings.JOB_SECONDS
    try:
        if not Job.objects.filter(pk=job_id, kind__in=READING).exists():
            _read_uploads_that_wait(until)
        if job := claim_job(job_id=job_id):
            _run_with_those_that_follow(job, until)
    finally:
        put_away()


def _run_with_those_that_follow(job: Job, until: float) -> None:
    """The row, then the queued rows of its revision. A row that goes back into the queue meanwhile has to wait for the sweep."""
    seen: set[int] = set()
    following: Job | None = job
    with keeping(job.revision_id):
        while following:
            seen.add(following.pk)
            run_claimed(following)
            following = _claim_next(job.revision_id, seen, until)


def _claim_next(revision_id: int | None, seen: set[int], until: float) -> Job | None:
    if revision_id is None:
        return None
    if shown := _claim_first(TO_BE_SEEN, seen, revision_id=revision_id):
        return shown
    _read_uploads_that_wait(until)
    return _claim_first(JOB_KINDS, seen, revision_id=revision_id)


def _read_uploads_that_wait(until: float) -> None:
    """Each with its renditions; what else is to be done on it has messages of its own. A row that nobody sent is the sweep's."""
    seen: set[int] = set()
    while time.monotonic() < until and (upload := _claim_first(READING, seen, sent_at__isnull=False)):
        following: Job | None = upload
        while following:
            seen.add(following.pk)
            run_claimed(following)
            following = _claim_first(TO_BE_SEEN, seen, revision_id=upload.revision_id) if upload.revision_id else None


def _claim_first(kinds: Iterable[str], seen: set[int], **of: object) -> Job | None:
    queued = Job.objects.filter(state=QUEUED, kind__in=kinds, **of).exclude(pk__in=seen)
    for waiting in sorted(queued, key=_place_in_order):
        if claimed := claim_job(job_id=waiting.pk):
            return claimed
    return None


def _place_in_order(job: Job) -> tuple[int, int, int]:
    kind = KIND_ORDER.index(job.kind) if job.kind in KIND_ORDER else len(KIND_ORDER)
    check = CHECK_ORDER.index(job.check_id) if job.check_id in CHECK_ORDER else len(CHECK_ORDER)
    return kind, check, job.pk


def run_claimed(job: Job) -> None:
    with watched(job) as watch:
        try:
            outcome = _work(job, watch)
            _record(job, outcome)
        except JobNotWanted:
            logger.info("Job %s was broken off: it was queued again.", job.pk)
        except JobTooSlow:
            retry_or_fail_job(job=job, reason=too_slow(), when_failed=tell_failed)
        except BoardError as error:
            fail_job(job=job, reason=error.message, when_failed=tell_failed)
        except Exception as error:
            _went_wrong(job, error)


def _work(job: Job, watch: JobWatch) -> Outcome:
    handle = load(HANDLERS[job.kind].run)
    with memory_limit(settings.JOB_MEMORY_MB), stoppable(watch):
        answer = handle(job)
    return answer if isinstance(answer, Outcome) else Outcome(answer)


@transaction.atomic
def _record(job: Job, outcome: Outcome) -> None:
    hold_subject(job=job)
    if isinstance(outcome.answer, NotMeasured):
        is_ours = job_not_measured(job=job, reason=outcome.answer.reason)
    else:
        is_ours = finish_job(job=job, numbers=outcome.answer)
    if is_ours:
        outcome.record()


def _went_wrong(job: Job, error: Exception) -> None:
    if is_out_of_memory(error):
        # The same picture would take as much the next time.
        reason = f"This takes more than the {settings.JOB_MEMORY_MB} MB of memory that one job may use."
        fail_job(job=job, reason=reason, when_failed=tell_failed)
        return
    if is_deadlock(error):
        logger.warning("Job %s (%s) met another change and is done again: %s", job.pk, job, error)
        give_job_back(job=job)
        return
    logger.exception("Job %s (%s) went wrong.", job.pk, job)
    what = "The server's disk is full" if _is_out_of_room(error) else f"Something went wrong here ({type(error).__name__})"
    reason = f"{what}; it was tried {job.tries} of {settings.MOST_TRIES} times."
    retry_or_fail_job(job=job, reason=reason, when_failed=tell_failed)


def _is_out_of_room(error: Exception) -> bool:
    return isinstance(error, OSError) and error.errno in (errno.ENOSPC, errno.EDQUOT)
