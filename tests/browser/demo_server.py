"""A whole Underblue (web, worker, broker) serving a copy of the demo board."""

import os
import shutil
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from urllib.request import urlopen

from tests.made_once import ROOT, demo_folder

START_SECONDS = 150
# Each process of the worker loads the libraries for itself.
ONE_WORKER = {"UNDERBLUE_WORKER_PROCESSES": "1"}


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


@contextmanager
def serving(var: Path) -> Iterator[str]:
    """The address of a running Underblue on a copy of the demo board."""
    shutil.copytree(demo_folder(), var)
    with running(var, ONE_WORKER) as address:
        yield address


@contextmanager
def running(var: Path, settings: Mapping[str, str] | None = None) -> Iterator[str]:
    """The address of a running Underblue on the folder `var`."""
    port = free_port()
    environment = {**os.environ, "UNDERBLUE_VAR": str(var), "UNDERBLUE_SIGN_IN_RATE": "1000/min", **(settings or {})}
    command = [sys.executable, "manage.py", "serve", "--port", str(port)]
    with (var / "serve.log").open("w") as log:
        process = subprocess.Popen(command, cwd=ROOT, env=environment, stdout=log, stderr=subprocess.STDOUT)
    try:
        _wait_until_up(f"http://127.0.0.1:{port}/sign-in", process, var)
        yield f"http://127.0.0.1:{port}"
    finally:
        process.send_signal(signal.SIGINT)
        process.wait(timeout=30)


def _wait_until_up(address: str, process: subprocess.Popen, var: Path) -> None:
    deadline = time.monotonic() + START_SECONDS
    while time.monotonic() < deadline and process.poll() is None:
        try:
            with urlopen(address, timeout=2):
                return
        except OSError:
            time.sleep(0.2)
    raise AssertionError(f"Underblue did not start:\n{(var / 'serve.log').read_text()}")
