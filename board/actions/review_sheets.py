"""Review sheets: asked for by a member, made by a worker, and kept for them until the next."""

from django.db import transaction
from django.db.models import Max

from board.access import Seat, shown_marks, visible_events, visible_notes, visible_pages, visible_review_sheets
from board.actions.events import write_event
from board.actions.jobs import digest_of, queue_job
from board.actions.unused_files import drop_files_later
from board.errors import NotValid
from board.models import Criterion, ReviewSheet
from board.models.enrolment import aliases_on
from board.models.review_sheet import FAILED, NOTES_SHOWN, OPEN_NOTES, READY

VERSION = 4  # raise it when the sheets come out otherwise: they are then made again
KEPT = 3  # of one member and board


@transaction.atomic
def request_review_sheet(*, seat: Seat, notes_shown: str = OPEN_NOTES) -> ReviewSheet:
    """Asked for again with nothing changed meanwhile, it is the one that is there."""
    if notes_shown not in NOTES_SHOWN:
        raise NotValid(f"Notes shown are one of {', '.join(NOTES_SHOWN)}.")
    inputs = {"version": VERSION, "user": seat.user.pk, "notes": notes_shown, "seen": _what_is_seen(seat)}
    digest, own = digest_of(inputs), visible_review_sheets(seat)
    there = own.filter(digest=digest).exclude(state=FAILED).first()
    if there:
        return there
    sheet = ReviewSheet.objects.create(
        board=seat.board, requested_by_id=seat.user.pk, notes_shown=notes_shown, digest=digest)
    queue_job(board=seat.board, kind="review-sheet", key=f"review-sheet/{sheet.pk}", review_sheet=sheet, inputs=inputs)
    _drop(list(own.exclude(pk=sheet.pk)[KEPT - 1 :]))
    return sheet


def _what_is_seen(seat: Seat) -> str:
    """Changes with all that may stand on the sheet, and with what this member may see: a page may be closed to them again."""
    told = visible_events(seat).exclude(kind__startswith="review-sheet")
    return digest_of({
        "event": told.aggregate(last=Max("number"))["last"], "pages": list(visible_pages(seat).values_list("pk", flat=True)),
        "notes": list(visible_notes(seat).order_by("pk").values_list("pk", "version")),
        "rubric": list(Criterion.objects.filter(assignment__works__board=seat.board).values_list("pk", "title", "asks")),
        "aliases": sorted(aliases_on(seat.board).items()),
        "marks": list(shown_marks(seat).values_list("criterion", "level", "comment")),
    })


def _drop(old: list[ReviewSheet]) -> None:
    drop_files_later([sheet.file_name for sheet in old])
    ReviewSheet.objects.filter(pk__in=[sheet.pk for sheet in old]).delete()


@transaction.atomic
def record_review_sheet(*, sheet: ReviewSheet, file_name: str) -> None:
    sheet.state, sheet.reason, sheet.file_name = READY, "", file_name
    _tell(sheet, "review-sheet-ready")


@transaction.atomic
def fail_review_sheet(*, sheet: ReviewSheet, reason: str) -> None:
    sheet.state, sheet.reason = FAILED, reason[:500]
    _tell(sheet, "review-sheet-failed")


def _tell(sheet: ReviewSheet, kind: str) -> None:
    sheet.save(update_fields=["state", "reason", "file_name"])
    write_event(board=sheet.board, kind=kind, only_for=sheet.requested_by, review_sheet=sheet.pk)
