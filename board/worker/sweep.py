"""Every few seconds, in every worker: give back or send what would else be lost, and deliver what is due."""

import logging
from typing import Any

from celery import bootsteps
from django.conf import settings
from django.db import connections
from django.utils import timezone

from board.actions.critiques import deliver_due_rounds
from board.actions.lost_jobs import requeue_lost_jobs, send_waiting_jobs
from board.worker.handlers import tell_failed

logger = logging.getLogger(__name__)


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
        self.timer_entry: Any = None

    def start(self, consumer: Any) -> None:
        self.timer_entry = consumer.timer.call_repeatedly(settings.SWEEP_SECONDS, sweep_and_close)
        consumer.timer.call_after(0, sweep_and_close)

    def stop(self, consumer: Any) -> None:
        if self.timer_entry:
            self.timer_entry.cancel()
