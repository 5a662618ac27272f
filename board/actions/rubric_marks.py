from collections.abc import Mapping, Sequence
from typing import Any

from django.db import transaction

from board.access import ClassSeat
from board.actions.events import write_event
from board.actions.versions import lock_version, save_next_version
from board.errors import NotValid
from board.models import RubricMark, Work


@transaction.atomic
def mark_work(*, seat: ClassSeat, work: Work, marks: Sequence[Mapping[str, Any]], expected_version: int | None = None) -> Work:
    """Of each criterion named, the level, the comment or both; what is not named stays. A mark with neither goes."""
    work = lock_version(work, expected_version)
    known = set(work.assignment.criteria.values_list("pk", flat=True))
    if unknown := {one["criterion"] for one in marks} - known:
        raise NotValid(f"There is no criterion {min(unknown)} in the rubric of this assignment.")
    for one in marks:
        _mark(seat, work, one)
    save_next_version(work)
    write_event(board=work.board, kind="work-marked", actor=seat.user)
    return work


def _mark(seat: ClassSeat, work: Work, one: Mapping[str, Any]) -> None:
    mark = RubricMark.objects.filter(work=work, criterion=one["criterion"]).first()
    mark = mark or RubricMark(work=work, criterion_id=one["criterion"], level=None)
    mark.level, mark.comment = one.get("level", mark.level), one.get("comment", mark.comment)
    mark.marked_by_id = seat.user.pk
    if mark.level is not None or mark.comment:
        mark.save()
    elif mark.pk:
        mark.delete()
