"""One poller for all streams of a process: a single query each turn, however many read.

Readers wait for their board's count to move, and then read what is theirs; database work is done in one thread of its own, with one
connection, so that waiting readers hold none.
"""

import asyncio
import logging
from collections.abc import AsyncIterator, Callable
from concurrent.futures import ThreadPoolExecutor
from contextlib import asynccontextmanager
from typing import TypeVar
from weakref import WeakKeyDictionary

from django.db import DatabaseError, connection

from api.told_to_stop import is_told_to_stop, listen
from board.models import Board

logger = logging.getLogger(__name__)
POLL_SECONDS = 0.4
Result = TypeVar("Result")
_reading_thread = ThreadPoolExecutor(max_workers=1, thread_name_prefix="event-reader")
_pollers: "WeakKeyDictionary[asyncio.AbstractEventLoop, Poller]" = WeakKeyDictionary()


async def in_reading_thread(function: Callable[..., Result], *args: object) -> Result:
    def run() -> Result:
        try:
            return function(*args)
        except DatabaseError:
            connection.close()  # the next reading begins with a fresh one
            raise

    return await asyncio.get_running_loop().run_in_executor(_reading_thread, run)


def poller_of_this_loop() -> "Poller":
    return _pollers.setdefault(asyncio.get_running_loop(), Poller())


class WatchedBoard:
    """How far a board's log has come, and who waits for more."""

    def __init__(self) -> None:
        self.readers = 0
        self.last = 0
        self._moved = asyncio.Event()

    def move_to(self, last: int) -> None:
        if last > self.last:
            self.last = last
            self.wake()

    def wake(self) -> None:
        self._moved.set()
        self._moved = asyncio.Event()

    async def moved_past(self, number: int, seconds: float) -> bool:
        """False when nothing came in that time."""
        if self.last > number:
            return True
        try:
            await asyncio.wait_for(self._moved.wait(), seconds)
        except TimeoutError:
            return False
        return True


class Poller:
    def __init__(self) -> None:
        listen()
        self._boards: dict[int, WatchedBoard] = {}
        self._task: asyncio.Task | None = None

    @asynccontextmanager
    async def watching(self, board_id: int) -> AsyncIterator[WatchedBoard]:
        board = self._boards.setdefault(board_id, WatchedBoard())
        board.readers += 1
        if self._task is None or self._task.done():
            self._task = asyncio.create_task(self._poll())
        try:
            yield board
        finally:
            board.readers -= 1
            if not board.readers:
                del self._boards[board_id]
            if not self._boards and self._task:
                self._task.cancel()
                self._task = None  # it ends a moment later; who comes meanwhile needs a new one

    def readers_of(self, board_id: int) -> int:
        return self._boards[board_id].readers if board_id in self._boards else 0

    async def _poll(self) -> None:
        while self._boards:
            if is_told_to_stop():
                for watched in self._boards.values():
                    watched.wake()
            try:
                asked = list(self._boards)
                counts = await in_reading_thread(counts_of, asked)
                for board_id in asked:
                    if (board := self._boards.get(board_id)) is None:
                        continue
                    if board_id in counts:
                        board.move_to(counts[board_id])
                    else:
                        board.wake()  # it was deleted: its readers find that out as they read
            except Exception:  # a database that is away for a moment must not end all streams
                logger.exception("The event log could not be read")
            await asyncio.sleep(POLL_SECONDS)


def counts_of(board_ids: list[int]) -> dict[int, int]:
    return dict(Board.objects.filter(pk__in=board_ids).values_list("pk", "events_so_far"))
