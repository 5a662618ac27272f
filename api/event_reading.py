"""Reading the event log for one person."""

from rest_framework import serializers

from api.body import json_field
from api.people import PersonSerializer
from board.access import Seat, visible_events
from board.models import Board, Event

MOST_AT_ONCE = 500
DATA = {"type": "object", "additionalProperties": True}


class EventSerializer(serializers.ModelSerializer):
    actor = PersonSerializer(allow_null=True)
    data = json_field(DATA)  # type: ignore[assignment]  # the field bears a name that the base class has too

    class Meta:
        model = Event
        fields = ["number", "kind", "at", "actor", "page", "data"]


def events_after(seat: Seat, after: int, limit: int = MOST_AT_ONCE) -> tuple[list[Event], int]:
    """What this person may see, in order, and the number up to which it is complete.

    The board's count is read first: what is written meanwhile has a higher number and comes with the next reading.
    """
    last = Board.objects.values_list("events_so_far", flat=True).get(pk=seat.board.pk)
    events = visible_events(seat).filter(number__gt=after, number__lte=last).select_related("actor").order_by("number")
    found = list(events[:limit])
    return found, found[-1].number if len(found) == limit else max(last, after)
