"""What others did on pages since a person last looked, in as many queries for many pages or boards as for one."""

from collections import Counter
from collections.abc import Iterable, Sequence

from django.contrib.auth.models import AbstractBaseUser
from django.db.models import Q, QuerySet

from board.access.boards import counted_for
from board.access.events import visible_events
from board.access.seats import Seat
from board.models import Event, LastLook

KINDS = {
    "pictures": ("revision-received", "revision-restored"),
    "notes": ("note-pinned", "notes-sent", "note-replied", "note-answered", "note-settled", "note-stet", "note-opened-again"),
    "moves": ("page-hand-in", "page-sign-off", "page-send-back", "panel-hand-in", "panel-sign-off", "panel-send-back"),
}
NEWS = tuple(KINDS)
GROUP_OF = {kind: group for group, kinds in KINDS.items() for kind in kinds}


def news_of(seat: Seat, page_ids: Sequence[int]) -> dict[tuple[int, str], int]:
    """(page, one of NEWS) -> how often. Nothing is new to who has not looked yet: all of it would be."""
    found: Counter[tuple[int, str]] = Counter()
    for event in _since_last_look(seat.user, [seat], visible_events(seat).filter(page__in=page_ids)):
        found[event.page_id or 0, GROUP_OF[event.kind]] += len(event.data.get("notes", (1,)))
    return found


def pages_with_news(user: AbstractBaseUser, seats: Iterable[Seat]) -> Counter[int]:
    """Board id -> on how many of its pages there is something new."""
    seats = list(seats)
    events = Event.objects.filter(counted_for(user, seats, "page__"), Q(only_for__isnull=True) | Q(only_for_id=user.pk))
    found = _since_last_look(user, seats, events.filter(page__isnull=False))
    return Counter(board for board, _ in {(event.board_id, event.page_id) for event in found})


def _since_last_look(user: AbstractBaseUser, seats: Sequence[Seat], events: QuerySet[Event]) -> list[Event]:
    looks = LastLook.objects.filter(user_id=user.pk, board__in=[seat.board.pk for seat in seats])
    rows = looks.values_list("board", "page", "event")
    seen: dict[tuple[int, int | None], int] = {(board, page): event for board, page, event in rows}
    since = {board: event for (board, page), event in seen.items() if page is None}
    if not since:
        return []
    later = Q()
    for board, event in since.items():
        later |= Q(board=board, number__gt=event)
    changes = events.filter(later, kind__in=GROUP_OF).exclude(actor_id=user.pk).order_by()
    return [row for row in changes.only("board_id", "page_id", "kind", "number", "data")
            if row.number > seen.get((row.board_id, row.page_id), since[row.board_id])]
