"""Whether this process was told to stop. A server waits for what it is answering, and a stream of events has no end of its own."""

import signal
import threading
from collections.abc import Callable
from functools import partial
from types import FrameType

ServersOwn = Callable[[int, FrameType | None], object]
_told = False


def is_told_to_stop() -> bool:
    return _told


def listen() -> None:
    """Beside the server's own handlers: call it when they are set, as they are once requests come in. A process without any ends at
    once by itself."""
    if threading.current_thread() is not threading.main_thread():
        return
    for number in (signal.SIGTERM, signal.SIGINT):
        handler = signal.getsignal(number)
        listens = isinstance(handler, partial) and handler.func is _hear
        if callable(handler) and handler is not signal.default_int_handler and not listens:
            signal.signal(number, partial(_hear, handler))


def _hear(servers_own: ServersOwn, number: int, frame: FrameType | None) -> None:
    global _told
    _told = True
    servers_own(number, frame)
