"""A class with two students' work, a round of critique between them, and one of everything that hangs on it."""

from dataclasses import dataclass
from datetime import date, timedelta
from io import BytesIO

from django.contrib.auth.models import AbstractBaseUser
from django.utils import timezone
from rest_framework.test import APIClient

from board.access import ClassSeat, Seat, access_board, class_seat
from board.actions.assignments import set_assignment
from board.actions.cast import add_character
from board.actions.classes import create_class
from board.actions.critiques import open_round, send_critique, write_points
from board.actions.enrolments import enrol_person
from board.actions.figures import mark_figure
from board.actions.hand_ins import extend, hand_in_stage
from board.actions.intake import mark_ready, mark_revision_ready
from board.actions.invitations import invite
from board.actions.model_sheets import add_model_sheet
from board.actions.notes import pin_note
from board.actions.panels import record_panels
from board.actions.references import add_reference
from board.actions.revisions import receive_revision
from board.actions.sheets import receive_sheet
from board.models import (
    Assignment,
    Critique,
    CritiqueRound,
    Enrolment,
    Extension,
    HandIn,
    Invitation,
    Job,
    SchoolClass,
    SeatInvitation,
    Work,
)
from tests.api.world import MARKS, SQUARE, PageWithAll, World, keep_renditions, ready_review_sheet, ready_underlay
from tests.conftest import Cast, make_person
from tests.pictures import png

# Names that would be told in any text they slip into.
AUTHOR, CRITIC = "quillon", "marrowby"
STUDENTS = (AUTHOR, CRITIC, "tamsin")
POINTS = [
    {"kind": "works", "body": "The quiet of the first panel."},
    {"kind": "change", "body": "The hand floats.", "why": "It breaks the weight.", "how": "Set the elbow on the sill.", "page": 1,
     "region": {"point": [0.5, 0.5]}},
]


@dataclass(frozen=True)
class ClassWorld:
    people: dict[str, AbstractBaseUser]
    school_class: SchoolClass
    assignment: Assignment
    works: dict[str, Work]
    hand_in: HandIn  # the author's
    extension: Extension  # the author's
    invitation: Invitation
    round: CritiqueRound
    critique: Critique  # by the critic, of the author's work; sent, not delivered

    def seat(self, name: str) -> ClassSeat:
        return class_seat(self.people[name], self.school_class.pk)

    def board_seat(self, name: str) -> Seat:
        return access_board(self.people[name], self.works[name].board_id)

    def enrolment(self, name: str) -> Enrolment:
        return Enrolment.objects.get(user=self.people[name], school_class=self.school_class)

    def client(self, name: str) -> APIClient:
        client = APIClient()
        if name != "anonymous":
            client.force_login(self.people[name])
        return client


def make_class_world(instructor: AbstractBaseUser | None = None, **assignment: object) -> ClassWorld:
    people = {name: make_person(name) for name in ("hollis", *STUDENTS, "elsewhere", "other-hollis", "nobody")}
    people["hollis"] = instructor or people["hollis"]
    ends_on = date.today() + timedelta(60)
    school_class = create_class(user=people["hollis"], title="Drawing the page", term="Autumn", ends_on=ends_on)
    other = create_class(user=people["other-hollis"], title="Another class", ends_on=ends_on)
    enrol_person(school_class=other, user=people["elsewhere"])
    seat = class_seat(people["hollis"], school_class.pk)
    set_up = set_assignment(
        seat=seat, title="A door opens", page_count=1, rubric=[{"title": "Perspective"}],
        stages=[{"stage": "thumbnail", "due_at": timezone.now() + timedelta(days=1)}], **assignment,
    )
    for name in STUDENTS:
        enrol_person(school_class=school_class, user=people[name], alias=f"{name}-alias")
    works = {name: Work.objects.select_related("assignment", "board").get(enrolment__user=people[name]) for name in STUDENTS}
    hand_ins = {name: hand_in(people[name], works[name], seat.school_class, shade) for shade, name in enumerate(STUDENTS, 60)}
    extension = extend(work=works[AUTHOR], stage="thumbnail", due_at=timezone.now() + timedelta(days=2))
    opened = open_round(assignment=set_up, stage="thumbnail", each_reads=2, due_at=timezone.now() + timedelta(days=3))
    critique = Critique.objects.get(round=opened, critic__user=people[CRITIC], work=works[AUTHOR])
    send_critique(critique=write_points(critique=critique, points=POINTS))
    invitation = invite(seat=seat, expires_at=timezone.now() + timedelta(days=7))
    return ClassWorld(people, school_class, set_up, works, hand_ins[AUTHOR], extension, invitation, opened, critique)


def hand_in(user: AbstractBaseUser, work: Work, school_class: SchoolClass, shade: int) -> HandIn:
    page = work.board.pages.get()
    revision = receive_revision(
        seat=access_board(user, work.board_id), page=page, file=BytesIO(png(shade=shade)), stage="thumbnail",
        file_name=f"{user.get_username()}-door.png", minutes_spent=45,
    )
    keep_renditions(revision.picture)
    mark_revision_ready(revision=revision)
    return hand_in_stage(seat=class_seat(user, school_class.pk), work=work, stage="thumbnail")


def board_world(world: ClassWorld) -> World:
    """The author's board with one of everything on it, as the table of routes wants it."""
    seat, board = world.board_seat(AUTHOR), world.works[AUTHOR].board
    teacher = access_board(world.people["hollis"], board.pk)
    cast = Cast(board, board.pages.get(), board.pages.get(), {**world.people, "reader": world.people[AUTHOR]})
    revision = cast.page.revisions.get()
    panel = record_panels(revision=revision, found=[{"polygon": SQUARE, "framed": True}])[0].panel
    Job.objects.filter(revision=revision).update(state="done")
    job = Job.objects.get(revision=revision, kind="renditions")
    Job.objects.filter(pk=job.pk).update(state="failed")
    character = add_character(seat=seat, name="Ines", height_m=1.7)
    spot = {"point": [0.5, 0.5]}
    note = pin_note(seat=teacher, page=cast.page, body="The hand floats.", tone="try", region=spot)
    held = pin_note(seat=teacher, page=cast.page, body="Not sent.", tone="ask", region=spot, is_held=True)
    figure = mark_figure(seat=seat, revision=revision, character=character.pk, marks=MARKS)
    on = PageWithAll(cast.page, revision, panel, note, held, Job.objects.get(pk=job.pk), ready_underlay(teacher, revision), figure)
    sheet = receive_sheet(seat=seat, file=BytesIO(png(shade=90)), file_name="thumbs.png")
    mark_ready(uploaded=sheet, found=[{"polygon": SQUARE}])
    keep_renditions(sheet.picture)
    reference = add_reference(seat=seat, file=BytesIO(png(shade=91)), title="The door")
    mark_ready(uploaded=reference)
    keep_renditions(reference.picture)
    reference.refresh_from_db()
    model_sheet = add_model_sheet(seat=seat, character=character, reference=reference.pk, landmarks=MARKS)
    good = pin_note(seat=teacher, body="Good.", tone="keep")
    # None is made to such a board: a row that the table of routes asks for.
    link = SeatInvitation.objects.create(board=board, roles=["artist"], expires_at=timezone.now() + timedelta(days=7))
    return World(cast, on, on, sheet, reference, character, model_sheet, good, ready_review_sheet(seat), link)
