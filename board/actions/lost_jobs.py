"""Find the rows that nobody works on any more, and the messages that were lost, and set both going again.

Any number of workers may sweep at once: every change is conditional, and a message too many finds nothing to claim.
"""

import logging
from collections.abc import Callable
from datetime import datetime, timedelta
from typing import Any

from amqp.exceptions import ChannelError
from django.conf import settings
from django.db.models import Q, QuerySet
from kombu.exceptions import OperationalError

from board.actions.jobs import retry_or_fail_job
from board.actions.send_job import send_job
from board.celery import QUEUE, app
from board.models import Job
from board.models.job import QUEUED, RUNNING

logger = logging.getLogger(__name__)
WORKER_STOPPED = "The worker stopped in the middle of this job."
# With other messages still waiting, a row's own is most likely among them. After this many times the patience it is sent anyway.
PATIENCE_WITH_A_BACKLOG = 20


def requeue_lost_jobs(now: datetime, *, when_failed: Callable[[Job], None] | None = None) -> int:
    """Rows whose worker was not heard of are queued again, or have failed when they were tried often enough."""
    silent = Job.objects.filter(state=RUNNING, heartbeat_at__lt=now - timedelta(seconds=settings.DEAD_AFTER_SECONDS))
    return sum(_give_back(job, when_failed) for job in silent)


def _give_back(job: Job, when_failed: Callable[[Job], None] | None) -> bool:
    try:
        return retry_or_fail_job(job=job, reason=_reason(job), when_failed=when_failed)
    except Exception:
        # One row that cannot be told of must not keep the others from being found.
        logger.exception("Job %s could not be given back.", job.pk)
        return False


def _reason(job: Job) -> str:
    return f"{WORKER_STOPPED} It was tried {job.tries} times." if job.tries > 1 else WORKER_STOPPED


def send_waiting_jobs(now: datetime) -> int:
    """Rows that were never sent, and rows whose message must be lost. Stops at the first that the broker does not take."""
    sent = 0
    for job_id in _unsent_or_lost(now).order_by("queued_at").values_list("pk", flat=True):
        if not send_job(job_id=job_id):
            break
        sent += 1
    return sent


def _unsent_or_lost(now: datetime) -> QuerySet[Job]:
    patience = timedelta(seconds=settings.LOST_AFTER_SECONDS)
    if messages_waiting() != 0:
        patience *= PATIENCE_WITH_A_BACKLOG
    return Job.objects.filter(Q(sent_at=None) | Q(sent_at__lt=now - patience), state=QUEUED)


def messages_waiting() -> int | None:
    """How many messages no worker has taken yet; None when the broker does not answer."""
    try:
        with app.connection_for_write() as connection:
            channel: Any = connection.default_channel
            return channel.queue_declare(QUEUE, passive=True).message_count
    except ChannelError:  # a queue that nothing was ever put on
        return 0
    except (OperationalError, OSError):
        return None
