"""An account that is closed signs nobody in, and keeps what its person drew and wrote. For whoever runs this Underblue."""

from django.contrib.auth.models import User
from django.db import transaction

from board.actions.events import write_event
from board.actions.members import read_roles
from board.actions.tokens import revoke_tokens
from board.errors import NotPossibleNow
from board.models import Board, Enrolment, Invitation, Member, SchoolClass, SeatInvitation
from board.models.enrolment import INSTRUCTOR
from board.stages.move_rules import REVIEWERS


@transaction.atomic
def close_account(*, person: User) -> None:
    """Sessions end, tokens and the links that they made are taken back."""
    person.is_active = False
    person.save(update_fields=["is_active"])
    revoke_tokens(user=person)
    SeatInvitation.objects.filter(made_by=person).delete()
    Invitation.objects.filter(made_by=person, username="").delete()  # those of a roster are for their students


@transaction.atomic
def reopen_account(*, person: User) -> None:
    person.is_active = True
    person.save(update_fields=["is_active"])


def boards_without_review() -> list[Board]:
    """On which nobody who can sign in is editor or instructor. Students' boards are their class's."""
    reviewed = {
        member.board_id for member in Member.objects.filter(user__is_active=True, board__is_assigned=False)
        if member.role_set & REVIEWERS
    }
    return list(Board.objects.filter(is_assigned=False).exclude(pk__in=reviewed).order_by("pk"))


def classes_without_instructor() -> list[SchoolClass]:
    instructed = Enrolment.objects.filter(place=INSTRUCTOR, user__is_active=True).values("school_class")
    return list(SchoolClass.objects.exclude(pk__in=instructed).order_by("pk"))


@transaction.atomic
def let_edit(*, person: User, board: Board) -> Member:
    """Beside what they are there already."""
    if board.is_assigned:
        raise NotPossibleNow("This board belongs to a class: its instructors read it.")
    member, _ = Member.objects.get_or_create(board=board, user_id=person.pk)
    member.roles = read_roles({*member.roles, "editor"})
    member.save(update_fields=["roles"])
    write_event(board=board, kind="member-changed", member=member.pk)
    return member


@transaction.atomic
def let_instruct(*, person: User, school_class: SchoolClass) -> Enrolment:
    enrolment, _ = Enrolment.objects.get_or_create(
        school_class=school_class, user_id=person.pk, defaults={"place": INSTRUCTOR}
    )
    if not enrolment.instructs:
        raise NotPossibleNow(f"{person.get_username()} is a student of this class.")
    return enrolment
