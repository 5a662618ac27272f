from datetime import date

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils import timezone

from board.errors import NotPossibleNow
from board.models import Board, Enrolment, SchoolClass
from board.models.enrolment import INSTRUCTOR
from board.stages.deadlines import class_is_over


@transaction.atomic
def create_class(*, user: AbstractBaseUser, title: str, ends_on: date, **fields: object) -> SchoolClass:
    """Who makes a class instructs it."""
    school_class = SchoolClass.objects.create(title=title, ends_on=ends_on, **fields)
    Enrolment.objects.create(school_class=school_class, user_id=user.pk, place=INSTRUCTOR)
    return school_class


@transaction.atomic
def change_class(*, school_class: SchoolClass, **fields: object) -> SchoolClass:
    for name, value in fields.items():
        setattr(school_class, name, value)
    school_class.save(update_fields=list(fields))
    return school_class


def is_still_running(school_class: SchoolClass) -> None:
    """Raises NotPossibleNow after its last day: what comes into it then would soon be listed for deletion."""
    if school_class.is_over(timezone.now()):
        raise NotPossibleNow(class_is_over(school_class.ends_on))


def class_of_board_runs(board: Board) -> None:
    """Raises NotPossibleNow where it is a student's board of a class that is over: what is drawn there then reaches nobody."""
    school_class = SchoolClass.objects.filter(assignments__works__board=board).first() if board.is_assigned else None
    if school_class:
        is_still_running(school_class)
