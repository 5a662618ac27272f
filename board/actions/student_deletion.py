"""A student's data goes: what is deleted, and what others were given stays without a name."""

from dataclasses import dataclass

from django.contrib.auth import get_user_model
from django.db import transaction
from django.db.models import Q

from board.actions.critique_notes import UNNAMED, sign_anew
from board.actions.enrolments import someone_still_instructs
from board.actions.kept_answers import forget_answers_to
from board.actions.unused_files import drop_review_sheets, drop_underlay_files, drop_unused_pictures, pictures_of_boards
from board.models import (
    Board,
    Character,
    Critique,
    Enrolment,
    HandIn,
    Member,
    Page,
    Reference,
    ReviewSheet,
    Revision,
    Sheet,
    Underlay,
    Work,
)
from board.models.enrolment import INSTRUCTOR


@dataclass(frozen=True)
class Deletion:
    """What goes and what stays, in counts."""

    boards: int
    pages: int
    pictures: int
    sheets: int
    references: int  # that they brought themselves
    characters: int  # of their own
    hand_ins: int
    critiques_received: int
    account: bool
    critiques_kept_without_name: int


def what_would_go(enrolment: Enrolment) -> Deletion:
    boards = _boards(enrolment)
    return Deletion(
        boards=len(boards),
        pages=Page.objects.filter(board__in=boards).count(),
        pictures=Revision.objects.filter(page__board__in=boards).count(),
        sheets=Sheet.objects.filter(board__in=boards).count(),
        references=Reference.objects.filter(board__in=boards, uploaded_by=enrolment.user_id).count(),
        characters=Character.objects.filter(board__in=boards, board__cast_is_given=False).count(),
        hand_ins=HandIn.objects.filter(work__enrolment=enrolment).count(),
        critiques_received=Critique.objects.filter(work__enrolment=enrolment).count(),
        account=_account_goes_too(enrolment),
        critiques_kept_without_name=Critique.objects.filter(critic=enrolment, sent_at__isnull=False).count(),
    )


def _boards(enrolment: Enrolment) -> list[int]:
    return list(Work.objects.filter(enrolment=enrolment).values_list("board", flat=True))


def _account_goes_too(enrolment: Enrolment) -> bool:
    """An account that an invitation made, when the person has no other class, and no seat but on the boards that go."""
    others = Enrolment.objects.filter(user=enrolment.user_id).exclude(pk=enrolment.pk)
    seats = Member.objects.filter(user=enrolment.user_id).exclude(board__in=_boards(enrolment))
    return enrolment.made_the_account and not others.exists() and not seats.exists()


@transaction.atomic
def delete_student(*, enrolment: Enrolment) -> Deletion:
    """Boards with all that is on them, hand-ins, marks, the place in the class, and the account made for it.

    Critiques that were sent to classmates stay theirs, are delivered when their round ends, and name nobody; what classmates wrote
    stays with them, without the work.
    """
    someone_still_instructs(enrolment)
    boards = _held(_boards(enrolment))
    told = what_would_go(enrolment)
    _take_name_off(enrolment)
    forget_answers_to(people=[enrolment.user_id, *_instructors(enrolment)])
    drop_underlay_files(Underlay.objects.filter(board__in=boards))
    on_paper = Q(board__in=boards) | Q(requested_by=enrolment.user_id)
    drop_review_sheets(ReviewSheet.objects.filter(on_paper))
    pictures = pictures_of_boards(boards)
    Board.objects.filter(pk__in=boards).delete()
    drop_unused_pictures(pictures)
    user = enrolment.user_id
    enrolment.delete()
    if told.account:
        get_user_model().objects.filter(pk=user).delete()
    return told


def _held(boards: list[int]) -> list[int]:
    """An upload on its way comes first and goes too, or finds that its page is gone."""
    list(Page.objects.select_for_update().filter(board__in=boards).order_by("pk").values_list("pk"))
    return list(Board.objects.select_for_update().filter(pk__in=boards).order_by("pk").values_list("pk", flat=True))


def _instructors(enrolment: Enrolment) -> list[int]:
    """Answers that are kept for them, in case they send the same again, may name anybody in the class."""
    instructors = Enrolment.objects.filter(school_class=enrolment.school_class_id, place=INSTRUCTOR)
    return list(instructors.values_list("user", flat=True))


def _take_name_off(enrolment: Enrolment) -> None:
    given = Critique.objects.filter(critic=enrolment)
    given.filter(sent_at__isnull=True, round__delivered_at__isnull=True).delete()
    sign_anew(enrolment, UNNAMED)
    given.update(critic=None)
