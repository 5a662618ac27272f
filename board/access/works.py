"""An assignment, and each student's work for it: a student sees their own, and what the assignment opens."""

from django.contrib.auth.models import AbstractBaseUser
from django.db.models import QuerySet

from board.access.classes import ClassNeed, ClassSeat, class_seat
from board.access.seats import Seat, require, shown_or_missing
from board.errors import NotFound
from board.models import Assignment, Extension, HandIn, Page, Revision, RubricMark, Work
from board.models.enrolment import INSTRUCTOR
from board.models.revision import READY, ready_revision


def access_assignment(user: AbstractBaseUser, pk: int, need: ClassNeed | None = None) -> tuple[ClassSeat, Assignment]:
    assignment = Assignment.objects.select_related("school_class").filter(pk=pk).first()
    seat = class_seat(user, assignment.school_class_id if assignment else None, need)
    return seat, shown_or_missing(assignment)


def visible_works(seat: ClassSeat) -> QuerySet[Work]:
    works = Work.objects.filter(assignment__school_class=seat.school_class)
    return works if seat.instructs else works.filter(enrolment=seat.enrolment)


def access_work(user: AbstractBaseUser, pk: int, need: ClassNeed | None = None) -> tuple[ClassSeat, Work]:
    work = Work.objects.select_related("assignment").filter(pk=pk).first()
    seat = class_seat(user, work.assignment.school_class_id if work else None)
    work = shown_or_missing(
        visible_works(seat).select_related("assignment__school_class", "enrolment__user", "board").filter(pk=pk).first()
    )
    return require(seat, need is None or need(seat)), work


def shown_marks(seat: Seat) -> QuerySet[RubricMark]:
    """How far the work has come that this board is: told to its student and to who instructs, and to nobody else on the board."""
    marks = RubricMark.objects.filter(work__board=seat.board)
    return marks if INSTRUCTOR in seat.roles else marks.filter(work__enrolment__user=seat.user.pk)


def is_ones_own(seat: ClassSeat, work: Work) -> bool:
    return work.enrolment_id == seat.enrolment.pk


def access_hand_in(user: AbstractBaseUser, pk: int) -> tuple[ClassSeat, HandIn]:
    hand_in = HandIn.objects.filter(pk=pk).first()
    seat, work = access_work(user, hand_in.work_id if hand_in else 0)
    shown = shown_or_missing(hand_in)
    shown.work = work
    return seat, shown


def access_extension(user: AbstractBaseUser, pk: int) -> tuple[ClassSeat, Extension]:
    extension = Extension.objects.filter(pk=pk).first()
    seat, work = access_work(user, extension.work_id if extension else 0)
    shown = shown_or_missing(extension)
    shown.work = work
    return seat, shown


def opened_pages(assignment: Assignment) -> QuerySet[Page]:
    """Pages of this assignment that the instructor opened to the class: they are shown without a name."""
    return Page.objects.filter(board__work__assignment=assignment, is_open_to_students=True)


def access_opened_picture(user: AbstractBaseUser, pk: int, number: int) -> tuple[ClassSeat, Revision]:
    """The picture of the opened page that stands at place `number` of the assignment's opened pages."""
    seat, assignment = access_assignment(user, pk)
    opened = opened_pages(assignment).order_by("pk")
    # Counted first: an address may hold a number that no database counts to.
    pages = list(opened[number - 1 : number]) if 0 < number <= opened.count() else []
    revision = _shown_to_the_class(pages[0]) if pages else None
    if revision is None:
        raise NotFound
    return seat, revision


def _shown_to_the_class(page: Page) -> Revision | None:
    """As it was handed in last, whatever its student draws on since; before that, as it stands."""
    hand_ins = HandIn.objects.filter(work__board=page.board_id).order_by("-pk")
    handed_in = [file["revision"] for hand_in in hand_ins for file in hand_in.files]
    if not handed_in:
        return ready_revision(page)
    shown = Revision.objects.filter(page=page, state=READY, withdrawn_at__isnull=True).in_bulk(handed_in)
    return next((shown[pk] for pk in handed_in if pk in shown), None)
