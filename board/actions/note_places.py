"""Where notes stand on a newer revision, as a worker worked it out from the two pictures."""

from collections.abc import Iterable

from django.db import transaction

from board.actions.carrying import carry_on
from board.actions.events import write_event
from board.models import Note, NotePlace, Revision


@transaction.atomic
def record_note_places(*, revision: Revision, places: Iterable[tuple[Note, dict, str, float]]) -> int:
    """`places`: (note, region, "registered" or "panel", quality). A place that someone set by hand stays."""
    by_hand = set(NotePlace.objects.filter(revision=revision, placed_by="hand").values_list("note_id", flat=True))
    count = 0
    for note, region, placed_by, quality in places:
        if note.pk in by_hand:
            continue
        NotePlace.objects.update_or_create(
            note=note, revision=revision, defaults={"region": region, "placed_by": placed_by, "quality": quality}
        )
        count += 1
    if count:
        write_event(board=revision.page.board, kind="notes-carried", page=revision.page, revision=revision.pk, notes=count)
        carry_on(revision=revision)
    return count
