"""What a handler answers."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from board.not_measured import NotMeasured

Answer = Mapping[str, Any] | NotMeasured


def nothing_more() -> None:
    """The job's own row says it all."""


@dataclass(frozen=True)
class Outcome:
    """`answer` is kept in the job's row; `record` writes the rest (findings, panels, a revision's state).

    Both happen in one transaction, and `record` is not called when the answer came too late.
    """

    answer: Answer
    record: Callable[[], None] = nothing_more
