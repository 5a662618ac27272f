"""Tell the workers that a row waits. A message that does not get through is no loss: the sweep sends it again."""

import logging
import time
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar

from django.utils import timezone
from kombu.exceptions import OperationalError

from board.celery import DROP_LEFT_OVER, RUN_JOB, app
from board.models import Job, Revision
from board.models.job import QUEUED

logger = logging.getLogger(__name__)
# After a broker did not answer, requests do not wait for it again at once.
QUIET_SECONDS = 2.0
_silent_until = 0.0
_kept_revision: ContextVar[int | None] = ContextVar("kept_revision", default=None)
_all_is_kept: ContextVar[bool] = ContextVar("all_is_kept", default=False)


@contextmanager
def keeping_all() -> Iterator[None]:
    """No message is sent: who queues does the work as well."""
    token = _all_is_kept.set(True)
    try:
        yield
    finally:
        _all_is_kept.reset(token)


@contextmanager
def keeping(revision_id: int | None) -> Iterator[None]:
    """In a worker: more work on this revision is not sent away. The worker goes on with it from the picture it has decoded."""
    token = _kept_revision.set(revision_id)
    try:
        yield
    finally:
        _kept_revision.reset(token)


def is_kept_here(revision: Revision | None) -> bool:
    return revision is not None and revision.pk == _kept_revision.get()


def send_job(*, job_id: int) -> bool:
    global _silent_until
    if _all_is_kept.get():
        return False
    if time.monotonic() < _silent_until:
        return False
    try:
        app.send_task(RUN_JOB, args=[job_id], retry=False)
    except (OperationalError, OSError) as error:
        _silent_until = time.monotonic() + QUIET_SECONDS
        logger.warning("The broker does not answer (%s); job %s waits for the sweep.", error, job_id)
        return False
    Job.objects.filter(pk=job_id, state=QUEUED).update(sent_at=timezone.now())
    return True


def send_drop_left_over() -> None:
    """Where the broker is away, tomorrow will do."""
    try:
        app.send_task(DROP_LEFT_OVER, retry=False)
    except (OperationalError, OSError) as error:
        logger.warning("The broker does not answer (%s); what was left behind is dropped another day.", error)
