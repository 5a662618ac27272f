"""What others did on pages since a person last looked: two queries, however many pages."""

from collections.abc import Sequence

from board.access import Seat, visible_events
from board.models import LastLook

KINDS = {
    "pictures": ("revision-received", "revision-restored"),
    "notes": ("note-pinned", "notes-sent", "note-replied", "note-answered", "note-settled", "note-stet", "note-opened-again"),
    "moves": ("page-hand-in", "page-sign-off", "page-send-back", "panel-hand-in", "panel-sign-off", "panel-send-back"),
}
NEWS = tuple(KINDS)
GROUP_OF = {kind: group for group, kinds in KINDS.items() for kind in kinds}


def news_of(seat: Seat, page_ids: Sequence[int]) -> dict[tuple[int, str], int]:
    """(page, one of NEWS) -> how often. Nothing is new to who has not looked yet: all of it would be."""
    looks = LastLook.objects.filter(user_id=seat.user.pk, board=seat.board)
    seen: dict[int | None, int] = dict(looks.values_list("page", "event"))
    if None not in seen:
        return {}
    since = seen[None]
    events = visible_events(seat).filter(number__gt=since, page__in=page_ids, kind__in=GROUP_OF).exclude(actor_id=seat.user.pk)
    found: dict[tuple[int, str], int] = {}
    for page, kind, number, data in events.order_by().values_list("page", "kind", "number", "data"):
        if number > seen.get(page, since):
            key = page, GROUP_OF[kind]
            found[key] = found.get(key, 0) + len(data.get("notes", (1,)))
    return found
