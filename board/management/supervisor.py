"""Keeps the parts of one machine's Underblue running until it is told to stop, and stops them in their order."""

import signal
import time
from collections.abc import Callable
from types import FrameType

from board.management.supervised import Supervised

LOOK_SECONDS = 0.5


class PartKeepsFailing(Exception):
    """A part of Underblue keeps falling over."""


class StopAsked(BaseException):
    """Ctrl-C, a closed terminal, or `kill`."""


class Supervisor:
    """`parts` in the order of starting; the web stops first, so that nothing new comes in, and the broker last."""

    def __init__(self, parts: list[Supervised]) -> None:
        self.parts = parts

    def run(self, when_up: Callable[[], None]) -> None:
        for number in (signal.SIGINT, signal.SIGTERM, signal.SIGHUP):
            signal.signal(number, self._stop_asked)
        try:
            self.check()
            when_up()
            while True:
                time.sleep(LOOK_SECONDS)
                self.check()
        except StopAsked:
            pass
        finally:
            self._stop_parts()

    def check(self) -> None:
        for part in self.parts:
            if not part.ensure_running():
                raise PartKeepsFailing(f"{part.name} keeps falling over, so Underblue stops. Its last words stand above.")

    def _stop_asked(self, number: int, frame: FrameType | None) -> None:
        raise StopAsked

    def _stop_parts(self) -> None:
        # Asked a second time while stopping, do not wait for anything to end in peace.
        for number in (signal.SIGINT, signal.SIGTERM, signal.SIGHUP):
            signal.signal(number, self._stop_at_once)
        for part in reversed(self.parts):
            part.stop()

    def _stop_at_once(self, number: int, frame: FrameType | None) -> None:
        for part in self.parts:
            part.stop_seconds = 0
            if part.process:
                part.process.kill()
