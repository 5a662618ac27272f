"""Where notes stand on a newer revision, as a worker worked it out from the two pictures."""

from collections.abc import Iterable
from dataclasses import dataclass

from django.db import transaction

from board.actions.carrying import carry_on
from board.actions.events import write_event
from board.drawn_lines import Lines
from board.models import Note, NotePlace, Revision


@dataclass(frozen=True)
class CarriedNote:
    note: Note
    region: dict
    lines: Lines
    placed_by: str  # "registered" or "panel"
    quality: float


@transaction.atomic
def record_note_places(*, revision: Revision, places: Iterable[CarriedNote]) -> int:
    """A place that someone set by hand stays."""
    by_hand = set(NotePlace.objects.filter(revision=revision, placed_by="hand").values_list("note_id", flat=True))
    count = 0
    for one in places:
        if one.note.pk in by_hand:
            continue
        here = {"region": one.region, "lines": one.lines, "placed_by": one.placed_by, "quality": one.quality}
        NotePlace.objects.update_or_create(note=one.note, revision=revision, defaults=here)
        count += 1
    if count:
        write_event(board=revision.page.board, kind="notes-carried", page=revision.page, revision=revision.pk, notes=count)
        carry_on(revision=revision)
    return count
