"""How far somebody has seen. Nobody else's business, so no event tells of it."""

from django.db import transaction

from board.access import Seat
from board.models import LastLook, Page


@transaction.atomic
def keep_last_look(*, seat: Seat, event: int, page: Page | None = None) -> LastLook:
    """Up to this event of the board's log, on the whole board or on one page. A look never takes back what was seen."""
    seen = min(event, seat.board.events_so_far)
    look, is_first = LastLook.objects.select_for_update(no_key=True).get_or_create(
        user_id=seat.user.pk, board=seat.board, page=page, defaults={"event": seen}
    )
    if not is_first:
        look.event = max(look.event, seen)
        look.save(update_fields=["event", "at"])
    return look
