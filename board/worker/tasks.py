"""What Celery calls. Loaded by workers only; everybody else sends by name.

OpenCV is loaded here, before the children are forked: they share it, and the first job of each does not wait for it.
"""

import logging
import os
from typing import Any

import cv2
from celery.signals import worker_init, worker_process_init
from django.conf import settings

from board.actions.kept_answers import forget_old_answers
from board.actions.left_over_files import drop_left_over
from board.celery import DROP_LEFT_OVER, RUN_JOB, app
from board.die_with_parent import die_with_parent
from board.embedded_broker.run_folder import socket_path
from board.embedded_broker.server import answers
from board.worker.run_job import run_job
from board.worker.sweep import SweepStep

app.steps["consumer"].add(SweepStep)

# Loaded before the fork: a child that starts only when its parent has been killed already sees that it has another one.
WORKER_PID = os.getpid()

logger = logging.getLogger(__name__)
NO_BROKER = "No broker answers at %s. `serve` starts it; where web and worker run apart, give both a REDIS_URL."


@app.task(name=RUN_JOB)
def run_job_task(job_id: int) -> None:
    run_job(job_id)


@app.task(name=DROP_LEFT_OVER)
def drop_left_over_task() -> None:
    forget_old_answers()  # nobody may send anything for weeks, and they hold names
    drop_left_over()


@worker_init.connect
def say_if_no_broker_is_there(**_: Any) -> None:
    """Celery only says that it tries again, and uploads wait without a word."""
    if not settings.REDIS_URL and not answers(socket_path(settings.VAR_DIR)):
        logger.error(NO_BROKER, socket_path(settings.VAR_DIR))


@worker_process_init.connect
def be_one_of_several(**_: Any) -> None:
    """Each child works on one core, and none outlives a parent that was killed."""
    die_with_parent(WORKER_PID)
    cv2.setNumThreads(1)
