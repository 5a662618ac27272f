"""Notes, figure marks and panels by hand are carried from revision to revision by the map between two pictures.

It is found once, and kept with the job.
"""

from django.db import transaction

from board.actions.events import write_event
from board.actions.jobs import queue_job
from board.actions.measuring import panels_as_input
from board.models import FigurePlace, Job, Note, NotePlace, PanelShape, Revision
from board.models.figure import LOST
from board.models.note import REGION
from board.models.panel import is_corrected
from board.models.revision import whole_pages


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


def lines_standing_on(revision: Revision) -> dict[str, list]:
    """Note id -> what it draws over this revision, for the notes that draw something."""
    notes = Note.objects.filter(page_id=revision.page_id, scope=REGION, check_id="").exclude(lines=[])
    pinned = dict(notes.filter(revision=revision).values_list("pk", "lines"))
    carried = NotePlace.objects.filter(revision=revision, note__in=notes).values_list("note_id", "lines")
    return {str(note): lines for note, lines in sorted((pinned | dict(carried)).items())}


def guessed_on(revision: Revision) -> list[int]:
    """The notes that came to this revision by their panel alone: no map knows where their drawing went, and none from here does."""
    guessed = NotePlace.objects.filter(revision=revision, placed_by="panel", note__scope=REGION, note__check_id="")
    return sorted(guessed.values_list("note", flat=True))


def marks_standing_on(revision: Revision) -> dict[str, dict]:
    """Figure id -> its marks on this revision, made there or carried to it."""
    rows = FigurePlace.objects.filter(revision=revision).exclude(placed_by=LOST).order_by("figure")
    return {str(figure): marks for figure, marks in rows.values_list("figure_id", "marks")}


def doubts_standing_on(revision: Revision) -> dict[str, dict]:
    """Figure id -> the doubts of its marks there, for the figures of which any are known."""
    rows = FigurePlace.objects.filter(revision=revision).exclude(placed_by=LOST).exclude(doubts={}).order_by("figure")
    return {str(figure): doubts for figure, doubts in rows.values_list("figure_id", "doubts")}


def lost_standing_on(revision: Revision) -> dict[str, str]:
    """Figure id -> why its marks could not be carried there. They wait to be marked again, on later pictures too."""
    rows = FigurePlace.objects.filter(revision=revision, placed_by=LOST).order_by("figure")
    return {str(figure): reason for figure, reason in rows.values_list("figure_id", "reason")}


def missed_by_hand(before: Revision, revision: Revision) -> list[int]:
    """The panels that stand by hand on the picture before and were not found on this one, whose panels nobody corrected."""
    shapes = list(PanelShape.objects.filter(revision=revision))
    if not shapes or is_corrected(shapes):
        return []
    by_hand = PanelShape.objects.filter(revision=before, is_by_hand=True)
    missed = by_hand.exclude(panel__in=[shape.panel_id for shape in shapes])
    return list(missed.order_by("order").values_list("panel", flat=True))


def queue_carrying(*, revision: Revision) -> Job | None:
    """Onto this revision, once its panels are known. Queued again when the panels, the notes or the marks before it change."""
    before = revision_before(revision)
    if before is None:
        return None
    standing = {str(note): region for note, region in notes_standing_on(before).items()}
    lines, figures, doubts = lines_standing_on(before), marks_standing_on(before), doubts_standing_on(before)
    lost, missed, guessed = lost_standing_on(before), missed_by_hand(before, revision), guessed_on(before)
    return queue_job(
        board=revision.page.board, kind="carry-notes", key=f"carry-notes/revision/{revision.pk}", revision=revision,
        inputs={
            "before": before.pk, "notes": standing, "panels": panels_as_input(revision), "panels_before": panels_as_input(before),
            **({"lines": lines} if lines else {}), **({"figures": figures} if figures else {}),
            **({"doubts": doubts} if doubts else {}), **({"lost": lost} if lost else {}),
            **({"missed": missed} if missed else {}), **({"guessed": guessed} if guessed else {}),
        },
    )


def carry_on(*, revision: Revision) -> None:
    """A note was pinned or moved here: it is carried to newer pictures too, by the map that is kept."""
    for after in revisions_after(revision):
        queue_carrying(revision=after)


def carry_past(*, revision: Revision) -> None:
    """It was withdrawn: what came after it comes after an earlier one now. What was pinned on it or moved there by hand stays."""
    after = Revision.objects.filter(jobs__kind="carry-notes", jobs__inputs__before=revision.pk, withdrawn_at__isnull=True)
    for one in after.select_related("page__board", "picture"):
        queue_carrying(revision=one)


def carry_through(*, revision: Revision) -> None:
    """It was put back: what came to earlier ones meanwhile comes to it, and from it to those that come after it again."""
    if Job.objects.filter(kind="carry-notes", revision=revision).exists():
        queue_carrying(revision=revision)
    carry_on(revision=revision)


@transaction.atomic
def tell_panels_compared(*, revision: Revision) -> None:
    """What changed in each panel is known, and kept with the job."""
    write_event(board=revision.page.board, kind="panels-compared", page=revision.page, revision=revision.pk)
