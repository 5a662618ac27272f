"""One note for all who have the same finding: written once, pinned where it was found on each student's own page."""

from django.db import transaction

from board.access import ClassSeat, seat_on
from board.actions.notes import pin_note
from board.models import Assignment, Enrolment, Note
from board.models.enrolment import INSTRUCTOR
from board.models.note import OPEN, REGION


def open_findings(assignment: Assignment, kind: str) -> list[Note]:
    """One measured note for each work that has such a finding open: its first."""
    notes = Note.objects.filter(board__work__assignment=assignment, finding_kind=kind, state=OPEN, page__isnull=False)
    first: dict[int, Note] = {}
    for note in notes.select_related("board", "page__board", "revision").order_by("page__number", "pk"):
        first.setdefault(note.board_id, note)
    return list(first.values())


@transaction.atomic
def give_note_to_all(
    *, seat: ClassSeat, assignment: Assignment, kind: str, body: str, tone: str = "try", criterion: int | None = None
) -> list[Note]:
    """Who was given the very same words before is not given them twice, whichever instructor of the class gave them."""
    who = Enrolment.objects.filter(school_class=seat.school_class, place=INSTRUCTOR).values("user")
    same = Note.objects.filter(board__work__assignment=assignment, author__in=who, body=body)
    given = set(same.values_list("board", flat=True))
    return [
        _give(seat, found, body, tone, criterion) for found in open_findings(assignment, kind) if found.board_id not in given
    ]


def _give(seat: ClassSeat, found: Note, body: str, tone: str, criterion: int | None) -> Note:
    on_board = seat_on(seat.user, found.board)
    assert on_board is not None  # an instructor of the class sits on its boards
    region = found.region if found.scope == REGION else None
    return pin_note(
        seat=on_board, page=found.page, body=body, tone=tone, region=region, revision=found.revision if region else None,
        criterion=criterion,
    )
