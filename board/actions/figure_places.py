"""Where marked figures stand on a newer revision, as a worker worked it out from the two pictures."""

from collections.abc import Iterable
from dataclasses import dataclass, field

from django.db import transaction

from board.actions.carrying import carry_on
from board.actions.events import write_event
from board.actions.measuring import queue_ready_checks
from board.actions.proposal_inputs import queue_proposals_beside
from board.models import Figure, FigurePlace, Revision
from board.models.figure import BY_HAND, LOST, REGISTERED


@dataclass(frozen=True)
class CarriedMarks:
    """`reason` says why there are no marks."""

    figure: int
    marks: dict[str, list[float]] = field(default_factory=dict)
    doubts: dict[str, float] = field(default_factory=dict)
    reason: str = ""


@transaction.atomic
def record_figure_places(*, revision: Revision, carried: Iterable[CarriedMarks]) -> int:
    """What someone marked on this revision by hand stays. The figure checks run where something changed."""
    by_hand = set(FigurePlace.objects.filter(revision=revision, placed_by=BY_HAND).values_list("figure_id", flat=True))
    there = set(Figure.objects.filter(page_id=revision.page_id).values_list("pk", flat=True))
    count = 0
    for one in carried:
        if one.figure in by_hand or one.figure not in there:
            continue
        placed_by = LOST if one.reason else REGISTERED
        FigurePlace.objects.update_or_create(
            figure_id=one.figure, revision=revision,
            defaults={"marks": one.marks, "doubts": one.doubts, "placed_by": placed_by, "reason": one.reason},
        )
        count += 1
    if count:
        write_event(board=revision.page.board, kind="figures-carried", page=revision.page, revision=revision.pk, figures=count)
        queue_ready_checks(revision=revision)
        carry_on(revision=revision)
        queue_proposals_beside(page=revision.page)
    return count
