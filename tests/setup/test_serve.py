"""`manage.py serve` on a folder of its own: what it starts, it ends."""

import os
import shutil
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from urllib.error import HTTPError
from urllib.request import Request, urlopen

import pytest

from board.embedded_broker.run_folder import socket_path
from board.embedded_broker.server import answers
from board.management.demo_people import sign_ins_as_text
from tests.made_once import empty_folder

ROOT = Path(__file__).resolve().parents[2]


def wait_until(holds: Callable[[], object], seconds: float = 20) -> None:
    deadline = time.monotonic() + seconds
    while not holds():
        assert time.monotonic() < deadline, "waited in vain"
        time.sleep(0.05)


def parent_and_state(pid: int) -> tuple[int, str]:
    state, parent = Path(f"/proc/{pid}/stat").read_text().rsplit(")", 1)[1].split()[:2]
    return int(parent), state


def descendants(pid: int) -> set[int]:
    parents = {}
    for folder in Path("/proc").iterdir():
        if folder.name.isdigit():
            try:
                parents[int(folder.name)] = parent_and_state(int(folder.name))[0]
            except (FileNotFoundError, ProcessLookupError):
                continue
    found, size = {pid}, 0
    while len(found) > size:
        size = len(found)
        found |= {child for child, parent in parents.items() if parent in found}
    return found - {pid}


def is_running(pid: int) -> bool:
    try:
        return parent_and_state(pid)[1] != "Z"
    except (FileNotFoundError, ProcessLookupError):
        return False


def nobody_of(pids: set[int]) -> Callable[[], bool]:
    return lambda: not any(map(is_running, pids))


def command_line(pid: int) -> str:
    return Path(f"/proc/{pid}/cmdline").read_bytes().replace(b"\0", b" ").decode()


class Served:
    def __init__(self, var_dir: Path, *options: str) -> None:
        with socket.create_server(("127.0.0.1", 0)) as free:
            self.port = free.getsockname()[1]
        command = [sys.executable, "manage.py", "serve", "--port", str(self.port), *options]
        self.output = (var_dir / f"output-{self.port}").open("w+")
        self.process = subprocess.Popen(
            command, cwd=ROOT, env={**os.environ, "UNDERBLUE_VAR": str(var_dir)}, stdout=self.output, stderr=subprocess.STDOUT
        )

    def printed(self) -> str:
        return Path(self.output.name).read_text()

    def wait_until_up(self) -> set[int]:
        wait_until(lambda: "Ctrl-C stops it" in self.printed() or self.process.poll() is not None, 40)
        assert self.process.poll() is None, self.printed()
        # broker, web, the worker and its two children
        wait_until(lambda: len(descendants(self.process.pid)) >= 5)
        return descendants(self.process.pid)

    def part(self, name: str) -> int:
        """The pid of the part whose command names it, started by serve itself."""
        mine = [pid for pid in descendants(self.process.pid) if parent_and_state(pid)[0] == self.process.pid]
        return next(pid for pid in mine if name in command_line(pid))


@pytest.fixture
def serve(tmp_path: Path) -> Iterator[Callable[..., Served]]:
    started: list[Served] = []
    shutil.copy(empty_folder() / "board.sqlite3", tmp_path)

    def serve(*options: str) -> Served:
        started.append(Served(tmp_path, *options))
        return started[-1]

    yield serve
    for served in started:
        if served.process.poll() is None:
            served.process.kill()
        served.process.wait()
        served.output.close()


def test_it_stops_all_that_it_started(serve: Callable[..., Served], tmp_path: Path) -> None:
    served = serve("--with-demo")
    children = served.wait_until_up()
    assert f"http://127.0.0.1:{served.port}/" in served.printed()
    assert sign_ins_as_text() in served.printed()
    served.process.send_signal(signal.SIGINT)
    assert served.process.wait(20) == 0
    assert not [pid for pid in children if is_running(pid)]
    assert not answers(socket_path(tmp_path))
    assert "Traceback" not in served.printed()


def test_killed_it_leaves_nothing_behind_and_starts_again(serve: Callable[..., Served]) -> None:
    served = serve()
    children = served.wait_until_up()
    served.process.kill()
    served.process.wait()
    wait_until(nobody_of(children))
    serve().wait_until_up()


def test_a_part_that_falls_over_is_started_again(serve: Callable[..., Served], tmp_path: Path) -> None:
    served = serve()
    served.wait_until_up()
    broker, worker = served.part("valkey"), served.part("celery")
    os.kill(broker, signal.SIGKILL)
    os.kill(worker, signal.SIGKILL)
    wait_until(nobody_of({broker, worker}))
    wait_until(lambda: len(descendants(served.process.pid)) >= 5 and answers(socket_path(tmp_path)))
    served.process.terminate()
    assert served.process.wait(20) == 0


def test_a_second_one_on_the_same_data_says_so_and_ends(serve: Callable[..., Served]) -> None:
    serve().wait_until_up()
    second = serve()
    assert second.process.wait(20) == 1
    assert "Underblue is running already" in second.printed()
    assert "Traceback" not in second.printed()


def test_a_taken_port_is_said_so(serve: Callable[..., Served]) -> None:
    with socket.create_server(("127.0.0.1", 0)) as taken:
        served = serve("--port", str(taken.getsockname()[1]))
        assert served.process.wait(20) == 1
        assert "Give another one with --port" in served.printed()


def test_a_database_that_is_not_up_to_date_is_said_so(serve: Callable[..., Served], tmp_path: Path) -> None:
    (tmp_path / "board.sqlite3").unlink()
    served = serve()
    assert served.process.wait(20) == 1
    assert "manage.py migrate" in served.printed()
    assert "Traceback" not in served.printed()


def test_others_find_it_under_the_address_that_it_was_given(serve: Callable[..., Served]) -> None:
    served = serve("--host", "127.0.0.2")  # of this machine too, and none of those that it answers to by itself
    served.wait_until_up()
    assert "not encrypted" in served.printed()
    # Nobody is signed in; by a name that is not its own it is not asked at all.
    for asked_for, status in (({}, "401"), ({"Host": "elsewhere.example"}, "400")):
        with pytest.raises(HTTPError, match=status):
            urlopen(Request(f"http://127.0.0.2:{served.port}/api/v1/me", headers=asked_for), timeout=10)


@pytest.mark.parametrize("host", ["0.0.0.0", "::"])  # noqa: S104
def test_every_address_is_no_address_to_be_found_under(serve: Callable[..., Served], host: str) -> None:
    served = serve("--host", host)
    assert served.process.wait(20) == 1
    assert "by which others find this machine" in served.printed()
    assert "Traceback" not in served.printed()
