"""Notes that lie on a picture of their page, or in a panel, that is not there on the page's picture of now."""

from collections.abc import Container, Sequence

from rest_framework import serializers

from board.models import Note, PanelShape, Revision

PICTURE, PANEL = ASTRAY = ("picture", "panel")


class AstraySerializer(serializers.Serializer):
    """Why the note's panel is none of the page's current picture.

    `picture`: it was pinned on another one, from which none is carried to this one. `panel`: its panel was not found here.
    """

    why = serializers.ChoiceField(ASTRAY)
    revision = serializers.IntegerField(allow_null=True, help_text="The number of the one that it was pinned on.")
    alternate = serializers.CharField(allow_null=True, help_text="Of that one, where it is not the current one's.")


def astray_now(notes: Sequence[Note], current: dict[int, Revision], here: Container[int]) -> dict[int, dict]:
    """Note id -> how it went astray, for those that did. `here`: the notes that have a place on the current picture."""
    found = panels_found(current)
    asked = [(note, current[note.page_id]) for note in notes if note.page_id in current and note.region is not None]
    told = {note.pk: (_why(note, now, here, found.get(now.pk)), note.revision, now) for note, now in asked}
    return {pk: _shape(why, pinned_on, now) for pk, (why, pinned_on, now) in told.items() if why}


def panels_found(current: dict[int, Revision]) -> dict[int, set[int]]:
    """Revision id -> the panels on it, for those on which any were found."""
    found: dict[int, set[int]] = {}
    shapes = PanelShape.objects.filter(revision__in=[revision.pk for revision in current.values()])
    for revision, panel in shapes.values_list("revision_id", "panel_id"):
        found.setdefault(revision, set()).add(panel)
    return found


def _why(note: Note, now: Revision, here: Container[int], panels: set[int] | None) -> str | None:
    if note.pk not in here and note.revision is not None and not is_carried_on(note.revision, now):
        return PICTURE
    return PANEL if note.panel_id and panels and note.panel_id not in panels else None


def is_carried_on(pinned_on: Revision, now: Revision) -> bool:
    """Whether what was pinned on the one comes to the other once that is measured."""
    is_same_try = (pinned_on.alternate, pinned_on.panel_id) == (now.alternate, now.panel_id)
    return is_same_try and pinned_on.number <= now.number and pinned_on.withdrawn_at is None


def _shape(why: str, pinned_on: Revision | None, now: Revision) -> dict:
    alternate = pinned_on.alternate if pinned_on and pinned_on.alternate != now.alternate else None
    return {"why": why, "revision": pinned_on.number if pinned_on else None, "alternate": alternate}
