"""Beside a running job: says that it is alive, and ends it when it takes too long or is no longer wanted."""

import logging
import os
import signal
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType

from django.conf import settings
from django.db import DatabaseError, connections

from board.actions.jobs import beat, retry_or_fail_job
from board.models import Job
from board.worker.handlers import tell_failed

logger = logging.getLogger(__name__)
# A job is asked to stop at its limit; one that is deep inside a C call does not hear it, and its process goes at this many limits.
KILLED_AT_LIMITS = 1.5


class JobTooSlow(BaseException):
    """No handler's `except Exception` may swallow it."""


class JobNotWanted(BaseException):
    """The row was queued again or given to another worker: nobody waits for this answer."""


class JobWatch(threading.Thread):
    def __init__(self, job: Job) -> None:
        super().__init__(name=f"watch job {job.pk}", daemon=True)
        self.job = job
        self.over = threading.Event()
        self.stop_with: type[BaseException] | None = None
        self.may_stop = False  # read and written by the main thread only
        self.began = time.monotonic()

    def run(self) -> None:
        try:
            while not self.over.wait(self._pause()):
                self._look()
        finally:
            connections.close_all()

    def _pause(self) -> float:
        return min(settings.HEARTBEAT_SECONDS, settings.JOB_SECONDS / 4)

    def _look(self) -> None:
        seconds = time.monotonic() - self.began
        if seconds > settings.JOB_SECONDS * KILLED_AT_LIMITS:
            self._kill_process()
        elif seconds > settings.JOB_SECONDS:
            self._ask_to_stop(JobTooSlow)
        if not self._beat():
            self._ask_to_stop(JobNotWanted)

    def _beat(self) -> bool:
        try:
            return beat(job=self.job)
        except (DatabaseError, MemoryError):  # busy, or out of room; the next beat comes soon enough
            logger.warning("Job %s could not give its heartbeat.", self.job.pk, exc_info=True)
            return True

    def _ask_to_stop(self, stop_with: type[BaseException]) -> None:
        self.stop_with = self.stop_with or stop_with
        signal.pthread_kill(threading.main_thread().ident or 0, signal.SIGALRM)

    def _kill_process(self) -> None:
        try:
            retry_or_fail_job(job=self.job, reason=too_slow(), when_failed=tell_failed)
        finally:
            os.kill(os.getpid(), signal.SIGKILL)

    def heard(self, signum: int, frame: FrameType | None) -> None:
        if self.may_stop and self.stop_with:
            self.may_stop = False
            raise self.stop_with


def too_slow() -> str:
    return f"This took longer than {settings.JOB_SECONDS:g} seconds and was stopped."


@contextmanager
def watched(job: Job) -> Iterator[JobWatch]:
    """Only on a process's main thread, where signals arrive: Celery's prefork children work there."""
    watch = JobWatch(job)
    before = signal.signal(signal.SIGALRM, watch.heard)
    watch.start()
    try:
        yield watch
    finally:
        watch.over.set()
        watch.join()
        signal.signal(signal.SIGALRM, before)


@contextmanager
def stoppable(watch: JobWatch) -> Iterator[None]:
    """The part of a job that may be broken off at any point: the work, not the writing of its result."""
    watch.may_stop = True
    try:
        yield
    finally:
        watch.may_stop = False
