"""Notes are carried from revision to revision by the map between the two pictures, which a worker finds once and the job keeps."""

from django.db import transaction
from django.db.models import QuerySet

from board.actions.events import write_event
from board.actions.jobs import queue_job
from board.actions.measuring import panels_as_input
from board.models import Job, Note, NotePlace, Revision
from board.models.note import REGION
from board.models.revision import READY


def whole_pages(revision: Revision) -> QuerySet[Revision]:
    """The pictures that notes are carried between: of the page, or of the same panel's tries."""
    return Revision.objects.filter(page_id=revision.page_id, panel=revision.panel, state=READY, withdrawn_at__isnull=True)


def revision_before(revision: Revision) -> Revision | None:
    """The one before of the same alternate; the first of a new alternate comes after whatever was there."""
    earlier = whole_pages(revision).filter(number__lt=revision.number).order_by("-number")
    return earlier.filter(alternate=revision.alternate).first() or earlier.first()


def revisions_after(revision: Revision) -> list[Revision]:
    """Those that come right after this one: the next of its alternate, and the first of others that began from it."""
    later = whole_pages(revision).filter(number__gt=revision.number).order_by("number")
    return [one for one in later if revision_before(one) == revision]


def notes_standing_on(revision: Revision) -> dict[int, dict]:
    """Note id -> its region on this revision, for people's notes that were pinned on it or carried to it."""
    notes = Note.objects.filter(page_id=revision.page_id, scope=REGION, check_id="")
    pinned = dict(notes.filter(revision=revision).values_list("pk", "region"))
    carried = NotePlace.objects.filter(revision=revision, note__in=notes).values_list("note_id", "region")
    return pinned | dict(carried)


def queue_carrying(*, revision: Revision) -> Job | None:
    """Onto this revision, once its panels are known. Queued again when the panels or the notes before it change."""
    before = revision_before(revision)
    if before is None:
        return None
    standing = {str(note): region for note, region in notes_standing_on(before).items()}
    return queue_job(
        board=revision.page.board, kind="carry-notes", key=f"carry-notes/revision/{revision.pk}", revision=revision,
        inputs={
            "before": before.pk, "notes": standing, "panels": panels_as_input(revision), "panels_before": panels_as_input(before),
        },
    )


def carry_on(*, revision: Revision) -> None:
    """A note was pinned or moved here: it is carried to newer pictures too, by the map that is kept."""
    for after in revisions_after(revision):
        queue_carrying(revision=after)


@transaction.atomic
def tell_panels_compared(*, revision: Revision) -> None:
    """What changed in each panel is known, and kept with the job."""
    write_event(board=revision.page.board, kind="panels-compared", page=revision.page, revision=revision.pk)
