from django.db.models import Q, QuerySet

from board.access.pages import own_or_opened
from board.access.seats import Seat
from board.models import Event


def visible_events(seat: Seat) -> QuerySet[Event]:
    events = Event.objects.filter(board=seat.board).filter(Q(only_for__isnull=True) | Q(only_for_id=seat.user.pk))
    if seat.sees_only_own_pages:
        events = events.filter(Q(page__isnull=True) | own_or_opened(seat, "page__"))
    return events
