"""One child process of `serve`: started, watched, started again when it falls over, stopped."""

import os
import signal
import subprocess
import time
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, field

from board.die_with_parent import before_exec

# A part that falls over this often within a minute will not stand by being started once more.
MOST_STARTS_A_MINUTE = 5

Process = subprocess.Popen[bytes]


@dataclass
class Supervised:
    name: str
    start: Callable[[], Process]
    stop_seconds: float  # how long it may take to end in peace
    process: Process | None = None
    starts: list[float] = field(default_factory=list)

    def ensure_running(self) -> bool:
        """False: it keeps falling over."""
        if self.process and self.process.poll() is None:
            return True
        now = time.monotonic()
        self.starts = [one for one in self.starts if now - one < 60]
        if len(self.starts) >= MOST_STARTS_A_MINUTE:
            return False
        self.starts.append(now)
        self.process = self.start()
        return True

    def stop(self) -> None:
        """Ask, wait, then end it with all that it started."""
        if self.process is None:
            return
        if self.process.poll() is None:
            self.process.terminate()
            with suppress(subprocess.TimeoutExpired):
                self.process.wait(self.stop_seconds)
        with suppress(ProcessLookupError):
            os.killpg(self.process.pid, signal.SIGKILL)
        self.process.wait()


def start_apart(command: list[str], extra_environment: dict[str, str] | None = None) -> Process:
    """In a session of its own: Ctrl-C goes to the supervisor alone, which stops the parts in their order. It dies with us."""
    return subprocess.Popen(
        command, env={**os.environ, **(extra_environment or {})}, stdin=subprocess.DEVNULL, start_new_session=True,
        preexec_fn=before_exec(),
    )
