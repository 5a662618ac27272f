from typing import Any

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils import timezone

from board.access import Seat
from board.actions.events import write_event
from board.actions.running_checks import checks_off, follow_checks
from board.errors import NotValid
from board.models import Board, Member
from board.models.member import ROLES
from board.page_format import PageFormat

FORMAT_FIELDS = ("trim_width_mm", "trim_height_mm", "bleed_mm", "safe_mm")


@transaction.atomic
def create_board(*, user: AbstractBaseUser, title: str, roles: tuple[str, ...] = ("artist", "editor"), **fields: object) -> Board:
    """Who makes a board works on it alone at first: artist and editor at once."""
    board = Board(title=title, **fields)
    check_format(board)
    board.save()
    Member.objects.create(board=board, user_id=user.pk, roles=[role for role in ROLES if role in roles])
    write_event(board=board, kind="board-made", actor=user)
    return board


@transaction.atomic
def change_board(*, seat: Seat, put_away: bool | None = None, **fields: Any) -> Board:
    """`checks`: those that run, None for all; `put_away`: whether it stands behind the others in the list of boards."""
    board = Board.objects.select_for_update(no_key=True).get(pk=seat.board.pk)
    off_before = board.checks_off
    if "checks" in fields:
        fields["checks_off"] = checks_off(fields.pop("checks"))
    if put_away is not None:
        fields["put_away_at"] = timezone.now() if put_away else None
    for name, value in fields.items():
        setattr(board, name, value)
    check_format(board)
    board.save(update_fields=list(fields))
    write_event(board=board, kind="board-changed", actor=seat.user, fields=sorted(fields))
    if {"reading", "is_bound", "own_tolerances", "checks_off", *FORMAT_FIELDS} & set(fields):
        follow_checks(board=board, off_before=off_before)
    return board


def check_format(board: Board) -> None:
    try:
        PageFormat(*(float(getattr(board, name)) for name in FORMAT_FIELDS))
    except ValueError as error:
        raise NotValid(str(error)) from error
