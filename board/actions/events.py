"""The event log: every change writes one row in its own transaction, numbered on its board without gaps."""

from django.contrib.auth.models import AbstractBaseUser
from django.db.models import F

from board.models import Board, Event, Page


def write_event(
    *,
    board: Board,
    kind: str,
    actor: AbstractBaseUser | None = None,
    page: Page | None = None,
    only_for: AbstractBaseUser | None = None,
    **data: object,
) -> Event:
    """Call it inside the transaction of the change it tells of.

    Counting up locks the board's row until that transaction ends, so numbers become visible in order and none is skipped.
    """
    Board.objects.filter(pk=board.pk).update(events_so_far=F("events_so_far") + 1)
    number = Board.objects.values_list("events_so_far", flat=True).get(pk=board.pk)
    return Event.objects.create(
        board_id=board.pk, number=number, kind=kind, actor_id=actor.pk if actor else None, page_id=page.pk if page else None,
        only_for_id=only_for.pk if only_for else None, data=data,
    )
