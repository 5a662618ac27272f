"""A class and the places in it: students see the class and themselves, its instructors everybody."""

from collections.abc import Callable
from dataclasses import dataclass

from django.contrib.auth.models import AbstractBaseUser
from django.db.models import BigIntegerField, QuerySet

from board.access.seats import require, shown_or_missing
from board.errors import NotFound
from board.models import Enrolment, Invitation, SchoolClass
from board.models.enrolment import INSTRUCTOR


@dataclass(frozen=True)
class ClassSeat:
    """One person in one class."""

    user: AbstractBaseUser
    school_class: SchoolClass
    enrolment: Enrolment

    @property
    def instructs(self) -> bool:
        return self.enrolment.instructs


ClassNeed = Callable[[ClassSeat], bool]


def instructs(seat: ClassSeat) -> bool:
    return seat.instructs


def visible_classes(user: AbstractBaseUser) -> QuerySet[SchoolClass]:
    """By a subquery: what is counted of a class must not be counted over this person's own place alone."""
    return SchoolClass.objects.filter(pk__in=Enrolment.objects.filter(user_id=user.pk).values("school_class"))


def class_seat(user: AbstractBaseUser, class_id: int | None, need: ClassNeed | None = None) -> ClassSeat:
    places = Enrolment.objects.select_related("school_class", "user")
    is_a_number = class_id is not None and class_id <= BigIntegerField.MAX_BIGINT
    enrolment = places.filter(user_id=user.pk, school_class=class_id).first() if is_a_number else None
    if enrolment is None:
        raise NotFound
    seat = ClassSeat(user, enrolment.school_class, enrolment)
    return require(seat, need is None or need(seat))


def access_class(user: AbstractBaseUser, pk: int, need: ClassNeed | None = None) -> tuple[ClassSeat, SchoolClass]:
    seat = class_seat(user, pk, need)
    return seat, seat.school_class


def access_enrolment(user: AbstractBaseUser, pk: int, need: ClassNeed | None = None) -> tuple[ClassSeat, Enrolment]:
    enrolment = Enrolment.objects.select_related("school_class", "user").filter(pk=pk).first()
    seat = class_seat(user, enrolment.school_class_id if enrolment else None)
    if enrolment is None or not (seat.instructs or enrolment.pk == seat.enrolment.pk):
        raise NotFound
    return require(seat, need is None or need(seat)), enrolment


def access_invitation(user: AbstractBaseUser, pk: int) -> tuple[ClassSeat, Invitation]:
    invitation = Invitation.objects.filter(pk=pk).first()
    seat = class_seat(user, invitation.school_class_id if invitation else None)
    if not seat.instructs:
        raise NotFound
    return seat, shown_or_missing(invitation)


def visible_enrolments(seat: ClassSeat) -> QuerySet[Enrolment]:
    places = Enrolment.objects.filter(school_class=seat.school_class).select_related("user")
    return places if seat.instructs else places.filter(pk=seat.enrolment.pk)


def instructors_of(school_class: SchoolClass) -> QuerySet[Enrolment]:
    return Enrolment.objects.filter(school_class=school_class, place=INSTRUCTOR).select_related("user")
