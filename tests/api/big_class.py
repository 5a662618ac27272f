"""A class as large as one gets: written in bulk, since what is asked of it is how it reads."""

from datetime import date, timedelta
from itertools import product

from django.contrib.auth import get_user_model
from django.contrib.auth.models import AbstractBaseUser
from django.utils import timezone

from board.models import (
    Assignment,
    AssignmentStage,
    Board,
    Criterion,
    Enrolment,
    HandIn,
    Note,
    Page,
    Picture,
    Revision,
    RubricMark,
    SchoolClass,
    Work,
)

KINDS = ("stray-edge", "eye-level-split", "upright-lean")


def make_big_class(*, students: int, assignments: int, pages: int) -> tuple[AbstractBaseUser, SchoolClass]:
    one_class = SchoolClass.objects.create(title="All of them", ends_on=date.today() + timedelta(30))
    users = get_user_model()
    instructor, *people = users.objects.bulk_create([users(username=f"person-{n}") for n in range(students + 1)])
    Enrolment.objects.create(school_class=one_class, user=instructor, place="instructor")
    places = Enrolment.objects.bulk_create(
        [Enrolment(school_class=one_class, user=user, alias=f"Student {user.pk}") for user in people]
    )
    set_work = Assignment.objects.bulk_create(
        [Assignment(school_class=one_class, title=f"Task {n}", page_count=pages) for n in range(assignments)]
    )
    due = timezone.now()
    AssignmentStage.objects.bulk_create([AssignmentStage(assignment=one, stage="thumbnail", due_at=due) for one in set_work])
    criteria = Criterion.objects.bulk_create([Criterion(assignment=one, order=1, title="Perspective") for one in set_work])
    pairs = list(product(zip(set_work, criteria, strict=True), places))
    boards = Board.objects.bulk_create([Board(title="Work", is_assigned=True) for _ in pairs])
    works = Work.objects.bulk_create(
        [Work(assignment=one, enrolment=place, board=board) for ((one, _), place), board in zip(pairs, boards, strict=True)]
    )
    RubricMark.objects.bulk_create(
        RubricMark(work=work, criterion=criterion, level=work.pk % 4)
        for ((_, criterion), _), work in zip(pairs, works, strict=True)
    )
    HandIn.objects.bulk_create([HandIn(work=work, stage="thumbnail", number=1, handed_in_at=due, files=[], digest="0" * 64)
                                for work in works])
    _fill(boards, pages)
    return instructor, one_class


def _fill(boards: list[Board], count: int) -> None:
    picture = Picture.objects.create(sha256="0" * 64, size_bytes=1, media_type="image/png")
    pages = Page.objects.bulk_create([Page(board=board, number=n) for board in boards for n in range(1, count + 1)])
    revisions = Revision.objects.bulk_create(
        [Revision(page=page, number=1, stage="thumbnail", picture=picture, state="ready", minutes_spent=30) for page in pages]
    )
    Note.objects.bulk_create(
        Note(board_id=revision.page.board_id, page=revision.page, revision=revision, body="6.2°", check_id="perspective",
             finding_kind=KINDS[revision.pk % 3])
        for revision in revisions
    )
