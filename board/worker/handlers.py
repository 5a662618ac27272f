"""Which function does which kind of work. Names only: a handler is loaded when its first job comes.

`run(job)` works and answers; it writes nothing itself, but gives what is to be written as `Outcome.record`. It raises a
`BoardError` for what people must be told as it is (it is not tried again), and anything else for what may go better next time.
`failed(job)` tells the job's subject, once, that it was given up; `job.reason` says why.
"""

from collections.abc import Callable
from dataclasses import dataclass
from importlib import import_module
from typing import Any

from board.models import Job


@dataclass(frozen=True)
class Handler:
    run: str  # "package.module:function"
    failed: str = ""


HANDLERS: dict[str, Handler] = {
    "intake": Handler("board.worker.intake:handle", "board.worker.intake:failed"),
    "renditions": Handler("board.worker.renditions:handle"),
    "check": Handler("board.worker.checks:handle", "board.worker.checks:failed"),
    "carry-notes": Handler("board.worker.carry_notes:handle"),
    "sheet": Handler("board.worker.sheets:handle", "board.worker.sheets:failed"),
    "cut": Handler("board.worker.cuts:handle"),
    "reference": Handler("board.worker.references:handle", "board.worker.references:failed"),
    "straighten": Handler("board.worker.straighten:handle", "board.worker.straighten:failed"),
    "underlay": Handler("board.worker.underlays:handle", "board.worker.underlays:failed"),
    "still-search": Handler("board.worker.still_search:handle"),
    "proposals": Handler("board.worker.propose_figures:handle"),
    "review-sheet": Handler("board.worker.review_sheets:handle", "board.worker.review_sheets:failed"),
}


def load(path: str) -> Callable[[Job], Any]:
    module, function = path.split(":")
    return getattr(import_module(module), function)


def tell_failed(job: Job) -> None:
    if HANDLERS[job.kind].failed:
        load(HANDLERS[job.kind].failed)(job)
