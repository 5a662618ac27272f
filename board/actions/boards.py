from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction

from board.access import Seat
from board.actions.events import write_event
from board.actions.measuring import measure_board_again
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
def change_board(*, seat: Seat, **fields: object) -> Board:
    board = Board.objects.select_for_update().get(pk=seat.board.pk)
    for name, value in fields.items():
        setattr(board, name, value)
    check_format(board)
    board.save(update_fields=list(fields))
    write_event(board=board, kind="board-changed", actor=seat.user, fields=sorted(fields))
    if {"reading", "own_tolerances", *FORMAT_FIELDS} & set(fields):
        measure_board_again(board=board)
    return board


def check_format(board: Board) -> None:
    try:
        PageFormat(*(float(getattr(board, name)) for name in FORMAT_FIELDS))
    except ValueError as error:
        raise NotValid(str(error)) from error
