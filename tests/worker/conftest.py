import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from django.conf import settings
from django.db import connection

from board.actions import send_job as send_job_module
from board.actions.jobs import queue_job
from board.embedded_broker.server import start_broker
from board.models import Board, Job
from board.worker.handlers import HANDLERS

# A worker that is thought dead, and a message that is thought lost, after a second or so.
QUICK = {"HEARTBEAT": "0.2", "DEAD_AFTER": "1.5", "LOST_AFTER": "1", "SWEEP": "0.4"}


def wait_until(holds: Callable[[], object], seconds: float = 20) -> None:
    deadline = time.monotonic() + seconds
    while not holds():
        assert time.monotonic() < deadline, "waited in vain"
        time.sleep(0.05)


@pytest.fixture(autouse=True)
def handlers_of_old() -> Iterator[None]:
    before = dict(HANDLERS)
    yield
    HANDLERS.clear()
    HANDLERS.update(before)


@pytest.fixture
def log(tmp_path: Path) -> Path:
    return tmp_path / "log"


@pytest.fixture
def queue(log: Path) -> Callable[..., Job]:
    """Queues a check of no revision: `queue("a", answer=1)`."""

    def queue(key: str, *, force: bool = False, kind: str = "check", **inputs: object) -> Job:
        board, _ = Board.objects.get_or_create(title="Spring flood")
        return queue_job(board=board, kind=kind, key=key, force=force, inputs={"log": str(log), **inputs})

    return queue


class Broker:
    """The embedded broker, to be stopped and started."""

    def __init__(self) -> None:
        self.process = start_broker(settings.VAR_DIR)

    def stop(self, with_signal: int = signal.SIGKILL) -> None:
        self.process.send_signal(with_signal)
        self.process.wait()

    def start(self) -> None:
        self.process = start_broker(settings.VAR_DIR)


@pytest.fixture
def broker(monkeypatch: pytest.MonkeyPatch) -> Iterator[Broker]:
    """With it, messages are really sent."""
    monkeypatch.setattr("board.actions.jobs.send_job", send_job_module.send_job)
    monkeypatch.setattr(send_job_module, "_silent_until", 0.0)
    broker = Broker()
    yield broker
    broker.stop()


class Worker:
    """A worker with its children, in a process group of its own."""

    def __init__(self) -> None:
        timings = {f"UNDERBLUE_{name}_SECONDS": seconds for name, seconds in QUICK.items()}
        name = connection.settings_dict["NAME"]
        server = os.environ.get("UNDERBLUE_TESTS_DATABASE", "").rpartition("/")[0]
        database = {"DATABASE_URL": f"{server}/{name}" if connection.vendor == "postgresql" else f"sqlite:///{name}"}
        command = [sys.executable, "-W", "ignore", "-m", "tests.worker.worker_under_test"]
        self.process = subprocess.Popen(command, env={**os.environ, **timings, **database}, start_new_session=True)

    def kill(self) -> None:
        self.process.kill()
        self.process.wait()


@pytest.fixture
def start_worker(transactional_db: None, broker: Broker) -> Iterator[Callable[[], Worker]]:
    workers: list[Worker] = []

    def start() -> Worker:
        workers.append(Worker())
        return workers[-1]

    yield start
    for worker in workers:
        worker.kill()
