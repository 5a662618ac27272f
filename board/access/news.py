"""What others did on pages since a person last looked, in as many queries for many pages or boards as for one."""

from collections import Counter
from collections.abc import Iterable, Sequence

from django.contrib.auth.models import AbstractBaseUser
from django.db.models import Count, Exists, OuterRef, Q, QuerySet

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
SENT_AT_ONCE = "notes-sent"  # one event of several notes
GROUP_OF = {kind: group for group, kinds in KINDS.items() for kind in kinds}


def news_of(seat: Seat, page_ids: Sequence[int]) -> dict[tuple[int, str], int]:
    """(page, one of NEWS) -> how often. Nothing is new to who has not looked yet: all of it would be."""
    found: Counter[tuple[int, str]] = Counter()
    later = _since_last_look(seat.user, [seat], visible_events(seat).filter(page__in=page_ids))
    counts = list(later.values_list("page", "kind").annotate(events=Count("pk")))
    for page, kind, events in counts:
        found[page, GROUP_OF[kind]] += events
    if any(kind == SENT_AT_ONCE for _, kind, _ in counts):
        for page, data in later.filter(kind=SENT_AT_ONCE).values_list("page", "data"):
            found[page, GROUP_OF[SENT_AT_ONCE]] += len(data["notes"]) - 1
    return found


def pages_with_news(user: AbstractBaseUser, seats: Iterable[Seat]) -> Counter[int]:
    """Board id -> on how many of its pages there is something new."""
    seats = list(seats)
    events = Event.objects.filter(counted_for(user, seats, "page__"), Q(only_for__isnull=True) | Q(only_for_id=user.pk))
    later = _since_last_look(user, seats, events.filter(page__isnull=False))
    return Counter(board for board, _ in later.values_list("board", "page").distinct())


def _since_last_look(user: AbstractBaseUser, seats: Sequence[Seat], events: QuerySet[Event]) -> QuerySet[Event]:
    """Counted by the database: who was away for a month has thousands of them, and asks at every look at the Wall."""
    looks = LastLook.objects.filter(user_id=user.pk)
    boards = looks.filter(page__isnull=True, board__in=[seat.board.pk for seat in seats])
    later = Q(pk__in=[])
    for board, event in boards.values_list("board", "event"):
        later |= Q(board=board, number__gt=event)
    seen_on_its_page = looks.filter(page=OuterRef("page"), event__gte=OuterRef("number"))
    return events.filter(later, ~Exists(seen_on_its_page), kind__in=GROUP_OF).exclude(actor_id=user.pk).order_by()
