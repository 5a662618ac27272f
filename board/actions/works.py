"""A student's board for an assignment: made from it, with its pages, and with cast and set where they are given."""

from collections.abc import Iterable

from django.db import transaction

from board.actions.events import write_event
from board.actions.running_checks import checks_off
from board.models import Assignment, Board, Character, Enrolment, Member, ModelSheet, Page, Reference, Work
from board.models.enrolment import STUDENT
from board.models.revision import READY

MODEL_SHEET = "model-sheet"


@transaction.atomic
def make_works(*, enrolments: Iterable[Enrolment] = (), assignment: Assignment | None = None) -> list[Work]:
    """For these students and the assignments of their class, or for this assignment and all students; those that are missing."""
    if assignment is not None:
        places = Enrolment.objects.filter(school_class=assignment.school_class_id, place=STUDENT).order_by("pk")
        pairs = [(assignment, enrolment) for enrolment in places.exclude(works__assignment=assignment).select_related("user")]
    else:
        pairs = [
            (one, enrolment) for enrolment in enrolments
            for one in Assignment.objects.filter(school_class=enrolment.school_class_id).exclude(works__enrolment=enrolment)
        ]
    return [_make_work(one, enrolment) for one, enrolment in pairs]


def _make_work(assignment: Assignment, enrolment: Enrolment) -> Work:
    board = Board.objects.create(is_assigned=True, checks_off=checks_off(assignment.checks), **assignment.board_fields())
    Member.objects.create(board=board, user_id=enrolment.user_id, roles=["student"])
    Page.objects.bulk_create(
        Page(board=board, number=number, drawn_by_id=enrolment.user_id) for number in range(1, assignment.page_count + 1)
    )
    work = Work.objects.create(assignment=assignment, enrolment=enrolment, board=board)
    if assignment.model_board_id:
        _give(assignment, board)
    write_event(board=board, kind="work-made")
    return work


def _give(assignment: Assignment, board: Board) -> None:
    """Copies of the rows; the pictures themselves are kept once."""
    kinds = [MODEL_SHEET] * assignment.cast_is_given + ["still", "background", "prop"] * assignment.set_is_given
    given = {}
    for reference in Reference.objects.filter(board=assignment.model_board_id, kind__in=kinds, state=READY).order_by("pk"):
        before = reference.pk
        reference.pk, reference.board, reference.uploaded_by = None, board, None
        reference._state.adding = True
        reference.save()
        given[before] = reference
    if assignment.cast_is_given:
        _give_cast(assignment, board, given)


def _give_cast(assignment: Assignment, board: Board, given: dict[int, Reference]) -> None:
    sheets = ModelSheet.objects.filter(character__board=assignment.model_board_id, reference__in=given).order_by("pk")
    for character in Character.objects.filter(board=assignment.model_board_id).order_by("pk"):
        before = character.pk
        character.pk, character.board = None, board
        character._state.adding = True
        character.save()
        for sheet in [one for one in sheets if one.character_id == before]:
            sheet.pk, sheet.character, sheet.reference = None, character, given[sheet.reference_id]
            sheet._state.adding = True
            sheet.save()
