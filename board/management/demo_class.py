"""Puts a class into the demo: invented students by their aliases, one assignment that is read and marked, one that is at work."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import timedelta
from io import BytesIO
from typing import Any

from django.contrib.auth.models import AbstractBaseUser
from django.utils import timezone

from board.access import ClassSeat, access_board, class_seat
from board.actions.assignments import set_assignment
from board.actions.classes import create_class
from board.actions.critiques import deliver_round, open_round, send_critique, write_points
from board.actions.enrolments import enrol_person
from board.actions.hand_ins import hand_in_stage
from board.actions.people import add_person
from board.actions.revisions import receive_revision
from board.actions.rubric_marks import mark_work
from board.management.demo_people import DEMO_STUDENTS, INSTRUCTOR, DemoPerson
from board.models import Assignment, Critique, SchoolClass, Work
from fixtures.class_pages import draw_class_page

TITLE = "Saturday class: one room, one eye level"
RUBRIC = [
    {"title": "Point of view", "asks": "Does one eye level hold through each panel, and does it serve what happens?"},
    {"title": "Weight", "asks": "Do people stand on the floor that is drawn?"},
    {"title": "Clarity", "asks": "Can it be read without words?"},
]


@dataclass(frozen=True)
class Drawn:
    """What a student drew: the seed and the fault of their page, and the minutes that they gave it."""

    seed: int
    fault: str
    amount: float
    minutes: int


FIRST = {"teasel": Drawn(83, "turned-edge", 10.0, 95), "brindle": Drawn(22, "eye-level-split", 0.2, 130),
         "sedge": Drawn(66, "eye-level-split", 0.2, 80)}
SECOND = {"teasel": Drawn(186, "eye-level-split", 0.2, 40), "brindle": Drawn(61, "turned-upright", 10.0, 25),
          "sedge": Drawn(313, "turned-solid", 10.0, 35)}
POINTS: tuple[list[dict[str, Any]], ...] = (
    [{"kind": "works", "body": "The empty space beside them says more than a line would."},
     {"kind": "change", "body": "The cupboard seems to slide.", "why": "Its edges run to another eye level than the wall's.",
      "how": "Carry one edge on to the wall's eye level and hang the others on it.", "page": 1,
      "region": {"point": [0.42, 0.3]}},
     {"kind": "ask", "body": "Is it morning? The light does not say yet.", "page": 1}],
    [{"kind": "works", "body": "I know at once whose room this is."},
     {"kind": "change", "body": "The second panel is as near as the first.", "why": "So nothing grows between them.",
      "how": "Step back for the first, or come close for the second.", "page": 1}],
)


def load_class(finish_work: Callable[[], None], say: Callable[[str], None]) -> None:
    say("a class, with what its students drew")
    instructor = _person(INSTRUCTOR)
    ends_on = timezone.localdate() + timedelta(days=70)
    school_class = create_class(user=instructor, title=TITLE, term="This term", ends_on=ends_on)
    seat = class_seat(instructor, school_class.pk)
    for student in DEMO_STUDENTS:
        enrol_person(school_class=school_class, user=_person(student), alias=student.alias, is_minor=student.name == "teasel")
    _first_assignment(seat, finish_work)
    _second_assignment(seat, finish_work)


def _person(one: DemoPerson) -> AbstractBaseUser:
    return add_person(username=one.name, password=one.password, name=one.alias)


def _first_assignment(seat: ClassSeat, finish_work: Callable[[], None]) -> None:
    """Handed in, read by two each, delivered and marked."""
    now = timezone.now()
    one = set_assignment(
        seat=seat, title="Two at a window", page_count=1, rubric=RUBRIC,
        stages=[{"stage": "pencil", "due_at": now + timedelta(hours=1)}],
        brief="Two panels in one room. Somebody waits, somebody comes. Keep one eye level in each panel.",
    )
    works = [_upload(one, name, "pencil", drawn) for name, drawn in FIRST.items()]
    finish_work()
    for work in works:
        _hand_in(seat.school_class, work)
    finish_work()
    opened = open_round(assignment=one, stage="pencil", each_reads=2, due_at=now + timedelta(days=2))
    for critique in Critique.objects.filter(round=opened).order_by("pk"):
        send_critique(critique=write_points(critique=critique, points=POINTS[critique.pk % 2]))
    deliver_round(opened=opened)
    levels = {"teasel": (2, 1, 2), "brindle": (1, 2, 3), "sedge": (1, 1, 2)}
    for work in Work.objects.filter(assignment=one).select_related("assignment", "board", "enrolment__user"):
        marks = zip(one.criteria.all(), levels[work.enrolment.user.get_username()], strict=True)
        mark_work(seat=seat, work=work, marks=[{"criterion": criterion.pk, "level": level} for criterion, level in marks])


def _second_assignment(seat: ClassSeat, finish_work: Callable[[], None]) -> None:
    """At work: one has yet to hand in."""
    now = timezone.now()
    one = set_assignment(
        seat=seat, title="A door opens", page_count=1, rubric=RUBRIC, grace_minutes=10, late_days=7,
        stages=[{"stage": "thumbnail", "due_at": now + timedelta(days=5)}, {"stage": "pencil", "due_at": now + timedelta(days=12)}],
        brief="Somebody opens a door, and the next panel shows why they wish they had not. First as thumbnails, then in pencil.",
    )
    works = {name: _upload(one, name, "thumbnail", drawn) for name, drawn in SECOND.items()}
    finish_work()
    for name, work in works.items():
        if name != "teasel":
            _hand_in(seat.school_class, work)
    finish_work()


def _upload(assignment: Assignment, name: str, stage: str, drawn: Drawn) -> Work:
    works = Work.objects.select_related("assignment", "board", "enrolment__user")
    work = works.get(assignment=assignment, enrolment__user__username=name)
    file = BytesIO()
    draw_class_page(drawn.seed, stage, drawn.fault, drawn.amount).save(file, "PNG", compress_level=3)
    receive_revision(
        seat=access_board(work.enrolment.user, work.board_id), page=work.board.pages.get(), file=file, stage=stage,
        file_name=f"{stage}.png", minutes_spent=drawn.minutes,
    )
    return work


def _hand_in(school_class: SchoolClass, work: Work) -> None:
    stage = work.assignment.stages.order_by("due_at")[0].stage
    hand_in_stage(seat=class_seat(work.enrolment.user, school_class.pk), work=work, stage=stage)
