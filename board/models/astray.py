"""Notes that lie on a picture of their page, or in a panel, that is not there on the page's picture of now."""

from collections.abc import Container, Sequence
from dataclasses import dataclass

from board.models.note import Note, NotePlace
from board.models.panel import PanelShape
from board.models.revision import Revision

PICTURE, PANEL = ASTRAY = ("picture", "panel")


@dataclass(frozen=True)
class Astray:
    """`revision`: the number of the one that it was pinned on; `alternate`: of that one, where it is not the current one's."""

    why: str
    revision: int | None
    alternate: str | None
    is_withdrawn: bool

    @property
    def words(self) -> str:
        """As `static/js/elements/note_face.js` says it."""
        if self.why == PANEL:
            return "its panel is not on this picture"
        alternate = f"alternate {self.alternate}, " if self.alternate else ""
        return f"on {alternate}revision {self.revision}{', withdrawn' if self.is_withdrawn else ''}"


def astray_now(notes: Sequence[Note], current: dict[int, Revision], here: Container[int] | None = None) -> dict[int, Astray]:
    """Note id -> how it went astray, for those that did. `current`: by page; `here`: the notes with a place on those pictures."""
    found = _panels_found(current)
    asked = [(note, current[note.page_id]) for note in notes if note.page_id in current and note.region is not None]
    there = _placed([note for note, _ in asked], current) if here is None else here
    told = {note.pk: (_why(note, now, there, found.get(now.pk)), note.revision, now) for note, now in asked}
    return {pk: _astray(why, pinned_on, now) for pk, (why, pinned_on, now) in told.items() if why}


def _placed(notes: Sequence[Note], current: dict[int, Revision]) -> set[int]:
    shown = {revision.pk for revision in current.values()}
    carried = NotePlace.objects.filter(note__in=notes, revision__in=shown).values_list("note", flat=True)
    return {*carried, *(note.pk for note in notes if note.revision_id in shown)}


def _panels_found(current: dict[int, Revision]) -> dict[int, set[int]]:
    """Revision id -> the panels on it, for those on which any were found."""
    found: dict[int, set[int]] = {}
    shapes = PanelShape.objects.filter(revision__in=[revision.pk for revision in current.values()])
    for revision, panel in shapes.values_list("revision_id", "panel_id"):
        found.setdefault(revision, set()).add(panel)
    return found


def _why(note: Note, now: Revision, here: Container[int], panels: set[int] | None) -> str | None:
    if note.pk not in here and note.revision is not None and not _is_carried_on(note.revision, now):
        return PICTURE
    return PANEL if note.panel_id and panels and note.panel_id not in panels else None


def _is_carried_on(pinned_on: Revision, now: Revision) -> bool:
    """Whether what was pinned on the one comes to the other once that is measured."""
    is_same_try = (pinned_on.alternate, pinned_on.panel_id) == (now.alternate, now.panel_id)
    return is_same_try and pinned_on.number <= now.number and pinned_on.withdrawn_at is None


def _astray(why: str, pinned_on: Revision | None, now: Revision) -> Astray:
    alternate = pinned_on.alternate if pinned_on and pinned_on.alternate != now.alternate else None
    return Astray(why, pinned_on.number if pinned_on else None, alternate, bool(pinned_on and pinned_on.withdrawn_at))
