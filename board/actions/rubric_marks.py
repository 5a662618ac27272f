from collections.abc import Mapping, Sequence
from typing import Any

from django.db import transaction

from board.access import ClassSeat
from board.actions.events import write_event
from board.errors import NotValid
from board.models import RubricMark, Work


@transaction.atomic
def mark_work(*, seat: ClassSeat, work: Work, marks: Sequence[Mapping[str, Any]]) -> None:
    """One level for each criterion named; a level of None takes the mark back."""
    known = set(work.assignment.criteria.values_list("pk", flat=True))
    if unknown := {one["criterion"] for one in marks} - known:
        raise NotValid(f"There is no criterion {min(unknown)} in the rubric of this assignment.")
    for one in marks:
        if one["level"] is None:
            RubricMark.objects.filter(work=work, criterion=one["criterion"]).delete()
            continue
        RubricMark.objects.update_or_create(
            work=work, criterion_id=one["criterion"],
            defaults={"level": one["level"], "comment": one.get("comment", ""), "marked_by_id": seat.user.pk},
        )
    write_event(board=work.board, kind="work-marked", actor=seat.user)
