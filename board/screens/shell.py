"""What every screen's page carries for its ES module: who is looking, at what, and what they may do. Numbers only, no HTML."""

from django.contrib.auth.models import AbstractBaseUser, AbstractUser
from django.db.models import Max

from board.access import Seat, visible_events


def full_name_of(user: AbstractBaseUser) -> str:
    """Empty where only the username is known."""
    return user.get_full_name() if isinstance(user, AbstractUser) else ""


def name_of(user: AbstractBaseUser) -> str:
    return full_name_of(user) or user.get_username()


def shell_of(seat: Seat) -> dict:
    board = seat.board
    return {
        "me": {"id": seat.user.pk, "name": name_of(seat.user)},
        "board": {"id": board.pk, "title": board.title, "reading": board.reading, "is_bound": board.is_bound},
        "may": {
            "write": seat.may_write, "draw": seat.may_draw, "review": seat.may_review, "run_board": seat.may_run_board,
            "change_board": seat.may_change_board, "change_members": seat.may_change_members, "invite": seat.may_invite,
            "add_pages": seat.may_add_pages, "keep_cast": seat.may_keep_cast, "add_references": seat.may_add_references,
        },
        "last_event": visible_events(seat).aggregate(last=Max("number"))["last"] or 0,
    }
