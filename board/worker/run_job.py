"""Claim a row, do its work, record its end; then the other rows that wait on the same revision, from the same decode."""

import logging
from collections.abc import Iterator

from django.conf import settings
from django.db import transaction

from board.actions.jobs import claim_job, fail_job, finish_job, job_not_measured, retry_or_fail_job
from board.actions.send_job import keeping
from board.check_registry import CHECKS
from board.errors import BoardError
from board.models import Job
from board.models.job import QUEUED
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


def run_job(job_id: int) -> None:
    """Does nothing when another worker has the row, or had it."""
    job = claim_job(job_id=job_id)
    if job is None:
        return
    with keeping(job.revision_id):
        try:
            for claimed in _with_those_that_follow(job):
                run_claimed(claimed)
        finally:
            put_away()


def _with_those_that_follow(job: Job) -> Iterator[Job]:
    """The row, then the queued rows of its revision. A row that goes back into the queue meanwhile has to wait for the sweep."""
    seen: set[int] = set()
    following: Job | None = job
    while following:
        seen.add(following.pk)
        yield following
        following = _claim_next(job.revision_id, seen)


def _claim_next(revision_id: int | None, seen: set[int]) -> Job | None:
    if revision_id is None:
        return None
    queued = Job.objects.filter(revision_id=revision_id, state=QUEUED).exclude(pk__in=seen)
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
    logger.exception("Job %s (%s) went wrong.", job.pk, job)
    reason = f"Something went wrong here ({type(error).__name__}); it was tried {job.tries} of {settings.MOST_TRIES} times."
    retry_or_fail_job(job=job, reason=reason, when_failed=tell_failed)
