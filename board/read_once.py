"""What several answers of one screen ask for is read once, while they are gathered."""

from collections.abc import Callable, Hashable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from functools import wraps
from typing import Any, TypeVar

Kept = dict[tuple[Hashable, ...], Any]
Answer = TypeVar("Answer")
KEPT: ContextVar[Kept | None] = ContextVar("kept", default=None)


@contextmanager
def reading_once(kept: Kept) -> Iterator[None]:
    """Within this, what `read_once` reads is kept in `kept` and found there. Nothing may be written meanwhile."""
    token = KEPT.set(kept)
    try:
        yield
    finally:
        KEPT.reset(token)


def read_once(read: Callable[..., Answer]) -> Callable[..., Answer]:
    """Elsewhere than within `reading_once`, just `read`. What it is given has to be hashable."""

    @wraps(read)
    def answer(*given: Hashable) -> Answer:
        kept = KEPT.get()
        if kept is None:
            return read(*given)
        asked = (read.__qualname__, *given)
        if asked not in kept:
            kept[asked] = read(*given)
        return kept[asked]

    return answer
