"""Every few seconds, in every worker: give back or send what would else be lost, and deliver what is due. Once a day: drop what was
left behind."""

import logging
from typing import Any

from celery import bootsteps
from django.conf import settings
from django.db import connections
from django.utils import timezone

from board.actions.critiques import deliver_due_rounds
from board.actions.lost_jobs import requeue_lost_jobs, send_waiting_jobs
from board.actions.send_job import send_drop_left_over
from board.worker.handlers import tell_failed

logger = logging.getLogger(__name__)
DAY_SECONDS = 24 * 3600
# A worker that is stopped every evening gets to it too, and one that has just come up has better things to do.
AFTER_START_SECONDS = 600


def sweep() -> None:
    now = timezone.now()
    requeue_lost_jobs(now, when_failed=tell_failed)
    send_waiting_jobs(now)
    deliver_due_rounds(now)


def sweep_and_close() -> None:
    """For the worker's parent process, which forks children: they must not inherit an open database."""
    try:
        sweep()
    except Exception:
        # A busy database or a broker that went away: the next sweep is seconds off.
        logger.exception("The sweep did not get through.")
    finally:
        connections.close_all()


class SweepStep(bootsteps.StartStopStep):
    """On the timer of the worker's own loop, and so no thread; Celery starts it anew with each connection to the broker."""

    requires = ("celery.worker.consumer.tasks:Tasks",)

    def __init__(self, consumer: Any, **options: Any) -> None:
        super().__init__(consumer, **options)
        self.timer_entries: list[Any] = []

    def start(self, consumer: Any) -> None:
        consumer.timer.call_after(0, sweep_and_close)
        self.timer_entries = [
            consumer.timer.call_repeatedly(settings.SWEEP_SECONDS, sweep_and_close),
            consumer.timer.call_after(AFTER_START_SECONDS, send_drop_left_over),
            consumer.timer.call_repeatedly(DAY_SECONDS, send_drop_left_over),
        ]

    def stop(self, consumer: Any) -> None:
        for entry in self.timer_entries:
            entry.cancel()
