"""What a student's board for an assignment waits for next."""

from collections.abc import Iterable

from django.db.models import Prefetch
from django.utils import timezone

from board.models import HandIn, Work
from board.stages.deadlines import effective_deadline, today_at_the_latest
from board.stages.order import STAGES


def next_deadlines(boards: Iterable[int]) -> dict[int, dict]:
    """Board id -> {"assignment", "title", "stage", "due_at"} of the first stage that is not handed in; none where all are.

    A later stage that is handed in closes those before it; a class that is over waits for nothing any more.
    """
    hand_ins = Prefetch("hand_ins", HandIn.objects.only("work", "stage"))
    running = Work.objects.filter(assignment__school_class__ends_on__gte=today_at_the_latest(timezone.now()))
    works = running.filter(board__in=boards).select_related("assignment")
    told = {work.board_id: _next(work) for work in works.prefetch_related("assignment__stages", "extensions", hand_ins)}
    return {board: one for board, one in told.items() if one}


def _next(work: Work) -> dict | None:
    reached = max((STAGES.index(one.stage) for one in work.hand_ins.all()), default=-1)
    later = {one.stage: one.due_at for one in work.extensions.all()}
    waiting = [
        {"assignment": work.assignment_id, "title": work.assignment.title, "stage": one.stage,
         "due_at": effective_deadline(one.due_at, later.get(one.stage))}
        for one in work.assignment.stages.all() if STAGES.index(one.stage) > reached
    ]
    return min(waiting, key=lambda one: STAGES.index(one["stage"]), default=None)


def next_stage(deadline: dict | None) -> str | None:
    return deadline["stage"] if deadline else None
