"""The life of a job row: queued, claimed, and ended once.

A worker may only end what it holds: every ending asks for the claim that it was given and the digest that it worked from. A row
that was queued again meanwhile has neither, so the late answer is dropped and the caller hears False.
"""

import hashlib
import json
import logging
import uuid
from collections.abc import Callable, Mapping
from typing import Any

from django.conf import settings
from django.db import transaction
from django.db.models import F, QuerySet
from django.utils import timezone

from board.actions.row_locks import hold_board, hold_pages, hold_pictures
from board.actions.send_job import is_kept_here, send_job
from board.models import Board, Job, Reference, ReviewSheet, Revision, Sheet, Underlay
from board.models.job import DONE, FAILED, NOT_MEASURED, QUEUED, RUNNING, UNFINISHED

logger = logging.getLogger(__name__)
LONGEST_REASON = 500


def digest_of(inputs: Mapping[str, Any]) -> str:
    return hashlib.sha256(json.dumps(inputs, sort_keys=True, separators=(",", ":")).encode()).hexdigest()


@transaction.atomic
def queue_job(
    *,
    board: Board,
    kind: str,
    key: str,
    inputs: Mapping[str, Any],
    check_id: str = "",
    revision: Revision | None = None,
    sheet: Sheet | None = None,
    reference: Reference | None = None,
    underlay: Underlay | None = None,
    review_sheet: ReviewSheet | None = None,
    force: bool = False,
) -> Job:
    """The row of this key, queued if its inputs are new, or if `force` says to do the same again."""
    digest, kept_here = digest_of(inputs), is_kept_here(revision)
    subject = {"board": board, "kind": kind, "check_id": check_id, "revision": revision, "sheet": sheet, "reference": reference,
               "underlay": underlay, "review_sheet": review_sheet}
    waiting = {"inputs": dict(inputs), "digest": digest, "tries": 0, "reason": "", **_as_queued(counts_as_sent=kept_here)}
    job, is_new = Job.objects.select_for_update(no_key=True).get_or_create(key=key, defaults={**subject, **waiting})
    if not is_new:
        if job.digest == digest and not force:
            return job
        if kind == "check" and job.answered.get("digest") == digest and job.state in UNFINISHED and not force:
            return _put_back(job, inputs)
        if force:
            waiting["answered"] = {}
        _set(job, **waiting)
        job.save(update_fields=list(waiting))
    if not kept_here:
        transaction.on_commit(lambda: send_job(job_id=job.pk), robust=True)
    return job


def _put_back(job: Job, inputs: Mapping[str, Any]) -> Job:
    """What was changed is as it was, before anybody measured it: the answer of that time holds, and whoever is at it stops."""
    _set(job, inputs=dict(inputs), claim="", tries=1, heartbeat_at=None, **job.answered)
    job.save(update_fields=["inputs", "claim", "tries", "heartbeat_at", *job.answered])
    job.refresh_from_db()  # its times, that were kept as text
    return job


def claim_job(*, job_id: int) -> Job | None:
    """The row, if this call is the one that gets it. Its `claim` is the receipt that ends it."""
    claim, now = uuid.uuid4().hex, timezone.now()
    claimed = Job.objects.filter(pk=job_id, state=QUEUED).update(
        state=RUNNING, claim=claim, tries=F("tries") + 1, started_at=now, heartbeat_at=now, finished_at=None, seconds=None
    )
    # It may have been queued again since; then it is nobody's, and somebody else's message.
    return Job.objects.filter(pk=job_id, claim=claim).first() if claimed else None


def beat(*, job: Job) -> bool:
    """The worker is alive and at it. False: the row is no longer its own, and whatever it finds will be dropped."""
    return bool(_held(job).update(heartbeat_at=timezone.now()))


def hold_subject(*, job: Job) -> None:
    """Call it first in the transaction that ends a job: who corrects its page meanwhile holds the page, and waits for the job."""
    for rows in (Revision.objects.filter(jobs=job.pk), Sheet.objects.filter(jobs=job.pk), Reference.objects.filter(jobs=job.pk)):
        hold_pictures(rows.values_list("picture", flat=True))
    hold_pages(Revision.objects.filter(jobs=job.pk).values_list("page", flat=True))
    hold_board(job.board_id)


def finish_job(*, job: Job, numbers: Mapping[str, Any]) -> bool:
    """Call it in the transaction that records the result, before that, and record nothing when it says False."""
    return _answer(job, DONE, reason="", numbers=dict(numbers))


def job_not_measured(*, job: Job, reason: str) -> bool:
    return _answer(job, NOT_MEASURED, reason=reason[:LONGEST_REASON], numbers={})


@transaction.atomic
def fail_job(*, job: Job, reason: str, when_failed: Callable[[Job], None] | None = None) -> bool:
    """`when_failed` tells the job's subject in the same transaction: a revision that cannot be read is refused."""
    hold_subject(job=job)
    failed = _end(job, FAILED, reason=reason[:LONGEST_REASON], answered={})
    if failed and when_failed:
        when_failed(job)
    return failed


def retry_or_fail_job(*, job: Job, reason: str, when_failed: Callable[[Job], None] | None = None) -> bool:
    """Back into the queue while there are tries left; the sweep sends it, so that what is out of order gets a moment to recover."""
    if job.tries >= settings.MOST_TRIES:
        return fail_job(job=job, reason=reason, when_failed=when_failed)
    return _change_held(job, **_as_queued(), reason=reason[:LONGEST_REASON])


def give_job_back(*, job: Job) -> bool:
    """Into the queue as if it had not been tried: nothing is wrong with it."""
    return _change_held(job, **_as_queued(), tries=job.tries - 1)


def _as_queued(*, counts_as_sent: bool = False) -> dict[str, Any]:
    now = timezone.now()
    return {
        "state": QUEUED,
        "claim": "",
        "queued_at": now,
        "sent_at": now if counts_as_sent else None,
        "started_at": None,
        "heartbeat_at": None,
        "finished_at": None,
        "seconds": None,
    }


def _held(job: Job) -> QuerySet[Job]:
    return Job.objects.filter(pk=job.pk, state=RUNNING, claim=job.claim, digest=job.digest)


def _answer(job: Job, state: str, *, reason: str, numbers: dict[str, Any]) -> bool:
    told = {"digest": job.digest, "state": state, "reason": reason, "started_at": job.started_at, **_ended_now(job)}
    return _change_held(job, **told, numbers=numbers, answered=told)


def _end(job: Job, state: str, **fields: Any) -> bool:
    return _change_held(job, state=state, **_ended_now(job), **fields)


def _ended_now(job: Job) -> dict[str, Any]:
    now = timezone.now()
    return {"finished_at": now, "seconds": (now - job.started_at).total_seconds() if job.started_at else None}


def _change_held(job: Job, **fields: Any) -> bool:
    if not _held(job).update(**fields):
        logger.info("An answer for job %s was dropped: it is no longer this worker's.", job.pk)
        return False
    _set(job, **fields)
    return True


def _set(job: Job, **fields: Any) -> None:
    for name, value in fields.items():
        setattr(job, name, value)
