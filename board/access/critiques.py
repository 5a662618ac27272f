"""Who reads a critique: its writer, its instructors, and, once delivered, whose work it is about, without its writer."""

from django.contrib.auth.models import AbstractBaseUser
from django.db.models import Q, QuerySet

from board.access.classes import ClassNeed, ClassSeat, class_seat
from board.access.seats import shown_or_missing
from board.errors import NotFound
from board.models import Critique, CritiqueRound, Revision


def access_round(user: AbstractBaseUser, pk: int, need: ClassNeed | None = None) -> tuple[ClassSeat, CritiqueRound]:
    one = CritiqueRound.objects.select_related("assignment__school_class").filter(pk=pk).first()
    seat = class_seat(user, one.assignment.school_class_id if one else None, need)
    return seat, shown_or_missing(one)


def visible_critiques(seat: ClassSeat) -> QuerySet[Critique]:
    critiques = Critique.objects.filter(round__assignment__school_class=seat.school_class)
    if seat.instructs:
        return critiques
    received = Q(work__enrolment=seat.enrolment, round__delivered_at__isnull=False, sent_at__isnull=False)
    return critiques.filter(Q(critic=seat.enrolment) | received)


def access_critique(user: AbstractBaseUser, pk: int) -> tuple[ClassSeat, Critique]:
    critique = Critique.objects.select_related("round__assignment").filter(pk=pk).first()
    seat = class_seat(user, critique.round.assignment.school_class_id if critique else None)
    shown = visible_critiques(seat).select_related("round__assignment", "critic__user", "work__enrolment__user", "work__board")
    return seat, shown_or_missing(shown.filter(pk=pk).first())


def writes_it(seat: ClassSeat, critique: Critique) -> bool:
    return critique.critic_id == seat.enrolment.pk


def is_about_own_work(seat: ClassSeat, critique: Critique) -> bool:
    return critique.work is not None and critique.work.enrolment_id == seat.enrolment.pk


def sees_picture(seat: ClassSeat, critique: Critique, revision: Revision | None) -> bool:
    """A critic sees none that was withdrawn since, as little as one that is deleted; the artist and the instructors do."""
    return revision is not None and not (revision.withdrawn_at and writes_it(seat, critique))


def access_critique_picture(user: AbstractBaseUser, pk: int, number: int) -> tuple[ClassSeat, Revision]:
    """The picture of page `number` as it was when the round began."""
    seat, critique = access_critique(user, pk)
    revision = next((page["revision"] for page in critique.pages if page["page"] == number), 0)
    shown = Revision.objects.select_related("picture").filter(pk=revision, page__board__work=critique.work).first()
    if not sees_picture(seat, critique, shown):
        raise NotFound
    return seat, shown_or_missing(shown)
