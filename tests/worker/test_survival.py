"""A real worker and a real broker, which die in the middle of things."""

import os
import shutil
import signal
from collections.abc import Callable
from pathlib import Path

from django.conf import settings

from board.actions.lost_jobs import messages_waiting
from board.models import Job
from tests.worker.conftest import Broker, Worker, wait_until
from tests.worker.fake_handlers import lines

Start = Callable[[], Worker]
Queue = Callable[..., Job]


def all_done(*jobs: Job) -> Callable[[], bool]:
    return lambda: Job.objects.filter(pk__in=[job.pk for job in jobs], state="done").count() == len(jobs)


def began(log: Path, times: int = 1) -> Callable[[], bool]:
    return lambda: len([line for line in lines(log) if line.startswith("began")]) >= times


def pid_of_last(log: Path) -> int:
    return int([line for line in lines(log) if line.startswith("began")][-1].split()[1])


def is_running(pid: int) -> bool:
    try:
        return Path(f"/proc/{pid}/stat").read_text().rsplit(")", 1)[1].split()[0] != "Z"
    except FileNotFoundError:
        return False


def test_a_worker_killed_in_the_middle_of_a_job_runs_it_again_and_the_answer_arrives_once(
    start_worker: Start, queue: Queue, log: Path, tmp_path: Path
) -> None:
    worker = start_worker()
    job = queue("check/one", answer=7, wait_for=str(tmp_path / "go"))
    wait_until(began(log))
    worker.kill()
    wait_until(lambda: not is_running(pid_of_last(log)))  # its children went with it
    start_worker()
    wait_until(began(log, times=2))
    (tmp_path / "go").touch()
    wait_until(all_done(job))
    assert [line for line in lines(log) if line == "ended"] == ["ended"]
    job.refresh_from_db()
    assert (job.numbers, job.tries) == ({"answer": 7}, 2)


def test_one_child_killed_in_the_middle_of_a_job_does_not_stop_the_worker(
    start_worker: Start, queue: Queue, log: Path, tmp_path: Path
) -> None:
    start_worker()
    job = queue("check/one", answer=7, wait_for=str(tmp_path / "go"))
    wait_until(began(log))
    os.kill(pid_of_last(log), signal.SIGKILL)
    wait_until(began(log, times=2))
    (tmp_path / "go").touch()
    wait_until(all_done(job))
    assert lines(log).count("ended") == 1


def test_what_was_queued_is_done_although_the_broker_lost_all_it_held(
    start_worker: Start, queue: Queue, broker: Broker
) -> None:
    jobs = [queue(f"check/{number}", answer=number) for number in range(5)]
    assert Job.objects.filter(sent_at=None).count() == 0
    broker.stop()
    shutil.rmtree(settings.VAR_DIR / "broker")
    broker.start()
    start_worker()
    wait_until(all_done(*jobs))


def test_a_worker_goes_on_when_the_broker_is_wiped_under_it(
    start_worker: Start, queue: Queue, log: Path, broker: Broker
) -> None:
    start_worker()
    first = queue("check/first", answer=1)
    wait_until(all_done(first))
    broker.stop()
    shutil.rmtree(settings.VAR_DIR / "broker")
    second = queue("check/second", answer=2)  # nobody hears of it
    assert second.state == "queued"
    broker.start()
    wait_until(all_done(second))


def test_what_the_broker_held_is_still_there_after_it_was_stopped(start_worker: Start, queue: Queue, broker: Broker) -> None:
    job = queue("check/one", answer=1)
    broker.stop(signal.SIGTERM)
    broker.start()
    assert messages_waiting() == 1
    start_worker()
    wait_until(all_done(job))


def test_a_job_queued_while_the_broker_is_away_is_kept_and_done_later(start_worker: Start, queue: Queue, broker: Broker) -> None:
    broker.stop()
    job = queue("check/one", answer=3)
    job.refresh_from_db()
    assert (job.state, job.sent_at) == ("queued", None)
    broker.start()
    start_worker()
    wait_until(all_done(job))
