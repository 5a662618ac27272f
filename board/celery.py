"""Celery: carries the numbers of job rows to the workers. What a job is, and how far it is, stands in its row."""

import os

from celery import Celery

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "board.settings")

from django.conf import settings  # noqa: E402

QUEUE = "board"
RUN_JOB = "board.run_job"
DROP_LEFT_OVER = "board.drop_left_over"
# One message may run several rows of one revision; a row has its own, shorter limit. See worker/job_watch.py.
MESSAGE_SECONDS = 10 * settings.JOB_SECONDS

app = Celery("board", broker=settings.BROKER_URL, include=["board.worker.tasks"])
app.conf.update(
    task_default_queue=QUEUE,
    task_ignore_result=True,
    task_publish_retry=False,
    # A message is taken off the queue when its work is done; when the worker dies it comes back. Running twice does no harm:
    # a row can be claimed once only.
    task_acks_late=True,
    task_reject_on_worker_lost=True,
    worker_prefetch_multiplier=1,
    task_time_limit=MESSAGE_SECONDS,
    # With kombu's own intervals a dead worker's message was not back after 75 s.
    broker_transport_options={
        "visibility_timeout": MESSAGE_SECONDS + 60,
        "unacked_restore_interval": 2,
        "unacked_restore_throttle": 1,
        "socket_connect_timeout": 2,
        # A request does not wait for a broker that is away (6 s by default): the sweep sends the job later. Workers do wait.
        "max_retries": 0,
    },
    broker_connection_retry_on_startup=True,
    broker_connection_max_retries=None,
    worker_enable_remote_control=False,
    # Children are kept: replacing one now and then held up its next job by 4 to 5 s; large arrays go back to the machine anyway.
    worker_concurrency=settings.WORKER_PROCESSES,
)
