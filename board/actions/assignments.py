from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any

from django.db import transaction

from board.access import ClassSeat, access_board
from board.actions.classes import is_still_running
from board.actions.hand_ins import give_time
from board.actions.rubric_lines import write_rubric
from board.actions.running_checks import checks_off, follow_checks
from board.actions.unused_files import drop_unused_pictures, pictures_of_boards
from board.actions.versions import lock_version, save_next_version
from board.actions.works import make_works
from board.errors import NotPossibleNow, NotValid
from board.models import Assignment, AssignmentStage, Board, HandIn, Revision, Sheet
from board.page_format import PageFormat

PARTS = ("stages", "rubric")


@transaction.atomic
def set_assignment(
    *, seat: ClassSeat, stages: Sequence[Mapping[str, Any]], rubric: Sequence[Mapping[str, Any]] = (), **fields: Any
) -> Assignment:
    """Sets the class its work, and gives each student the board for it."""
    is_still_running(seat.school_class)
    assignment = Assignment(school_class=seat.school_class, **_with_model_board(seat, fields))
    _check(assignment)
    assignment.save()
    _write_stages(assignment, stages)
    write_rubric(assignment, rubric)
    make_works(assignment=assignment)
    return assignment


@transaction.atomic
def change_assignment(
    *, seat: ClassSeat, assignment: Assignment, expected_version: int | None, drops_marks: bool = False, **fields: Any
) -> Assignment:
    """What students' boards take over from it changes there too; how many pages it has stays as it was set.

    A deadline that is moved later counts for what is handed in already. A line of the rubric that has marks goes only where
    `drops_marks` says so.
    """
    assignment = lock_version(assignment, expected_version)
    if fields.get("page_count", assignment.page_count) != assignment.page_count:
        raise NotPossibleNow("The boards are made; their number of pages cannot change any more.")
    own = _with_model_board(seat, {name: value for name, value in fields.items() if name not in PARTS})
    for name, value in own.items():
        setattr(assignment, name, value)
    _check(assignment)
    save_next_version(assignment, *own)
    if "stages" in fields:
        _write_stages(assignment, fields["stages"])
    if "rubric" in fields:
        write_rubric(assignment, fields["rubric"], drops_marks=drops_marks)
    if {"stages", "grace_minutes"} & set(fields):
        give_time(assignment)
    _hand_down(assignment)
    return assignment


@transaction.atomic
def remove_assignment(*, assignment: Assignment, expected_version: int | None) -> None:
    """With its empty boards. Once somebody drew for it, it stays: what students made is theirs until the term's end."""
    assignment = lock_version(assignment, expected_version)
    boards = Board.objects.filter(work__assignment=assignment)
    if Revision.objects.filter(page__board__in=boards).exists() or Sheet.objects.filter(board__in=boards).exists():
        raise NotPossibleNow("Students have uploaded drawings for this assignment, so it is kept. Change it instead.")
    pictures = pictures_of_boards(list(boards.values_list("pk", flat=True)))
    boards.delete()
    assignment.delete()
    drop_unused_pictures(pictures)


def _with_model_board(seat: ClassSeat, fields: dict[str, Any]) -> dict[str, Any]:
    """Only a board that the instructor sits on can be given from."""
    named = fields.pop("model_board", None)
    if named is not None:
        fields["model_board"] = access_board(seat.user, named, lambda own: own.may_run_board).board
    return fields


def _check(assignment: Assignment) -> None:
    try:
        PageFormat(assignment.trim_width_mm, assignment.trim_height_mm, assignment.bleed_mm, assignment.safe_mm)
    except ValueError as error:
        raise NotValid(str(error)) from error
    if (assignment.cast_is_given or assignment.set_is_given) and assignment.model_board is None:
        raise NotValid("Name the board that cast and set are given from.")


def _write_stages(assignment: Assignment, stages: Sequence[Mapping[str, Any]]) -> None:
    if len({one["stage"] for one in stages}) < len(stages) or not stages:
        raise NotValid("Name one stage or more, each once, with its deadline.")
    dropped = AssignmentStage.objects.filter(assignment=assignment).exclude(stage__in=[one["stage"] for one in stages])
    for gone in dropped:
        _nobody_handed_in(assignment, gone.stage)
    dropped.delete()
    for one in stages:
        deadline: dict[str, datetime] = {"due_at": one["due_at"]}
        AssignmentStage.objects.update_or_create(assignment=assignment, stage=one["stage"], defaults=deadline)


def _nobody_handed_in(assignment: Assignment, stage: str) -> None:
    works = HandIn.objects.filter(work__assignment=assignment, stage=stage).order_by().values("work").distinct().count()
    if works:
        who = "1 student has" if works == 1 else f"{works} students have"
        raise NotPossibleNow(f"{who} handed in the {stage} stage, so it keeps its deadline. It can be another one.")


def _hand_down(assignment: Assignment) -> None:
    boards = Board.objects.filter(work__assignment=assignment)
    before = boards.first()
    off = checks_off(assignment.checks)
    boards.update(checks_off=off, **assignment.board_fields())
    measured = ("reading", "is_bound", "trim_width_mm", "trim_height_mm", "bleed_mm", "safe_mm", "own_tolerances")
    off_before = before.checks_off if before else []
    if before and (off_before != off or any(getattr(before, n) != getattr(assignment, n) for n in measured)):
        for board in boards:
            follow_checks(board=board, off_before=off_before)
