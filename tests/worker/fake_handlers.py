"""Handlers that show what the frame around them does. They write down each run in a file: the database is what is under test."""

import errno
import os
import time
from pathlib import Path

from board.errors import NotPossibleNow
from board.models import Job
from board.not_measured import NotMeasured
from board.worker.handlers import HANDLERS, Handler


def write_down(job: Job, line: str) -> None:
    with Path(job.inputs["log"]).open("a") as log:
        log.write(f"{line}\n")


def lines(log: Path) -> list[str]:
    return log.read_text().splitlines() if log.exists() else []


def work(job: Job) -> dict:
    """Answers at once, or waits for the file that `wait_for` names."""
    write_down(job, f"began {os.getpid()}")
    wait_for = job.inputs.get("wait_for")
    while wait_for and not Path(wait_for).exists():
        time.sleep(0.02)
    write_down(job, "ended")
    return {"answer": job.inputs.get("answer")}


def break_down(job: Job) -> dict:
    write_down(job, f"try {job.tries}")
    raise ZeroDivisionError


def fill_the_disk(job: Job) -> dict:
    raise OSError(errno.ENOSPC, "No space left on device")


def say_why_not(job: Job) -> dict:
    write_down(job, f"try {job.tries}")
    raise NotPossibleNow("The file ends in the middle.")


def take_memory(job: Job) -> dict:
    write_down(job, f"try {job.tries}")
    return {"bytes": len(bytearray(job.inputs["bytes"]))}


def measure_nothing(job: Job) -> NotMeasured:
    return NotMeasured("2 segments found; 6 are needed")


def sleep_deeply(job: Job) -> dict:
    write_down(job, f"try {job.tries}")
    for _ in range(int(job.inputs["seconds"] / 0.02)):
        time.sleep(0.02)
    return {}


def failed(job: Job) -> None:
    write_down(job, f"failed: {job.reason}")


def register(name: str, kind: str = "check") -> None:
    HANDLERS[kind] = Handler(f"tests.worker.fake_handlers:{name}", "tests.worker.fake_handlers:failed")
