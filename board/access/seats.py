"""Who sits where: a `Seat` is one person on one board, with what their roles allow."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import TypeVar

from django.contrib.auth.models import AbstractBaseUser
from django.http import HttpRequest

from board.errors import NotAllowed, NotFound
from board.models import Board, Member, Page
from board.stages.move_rules import DRAWERS, REVIEWERS


@dataclass(frozen=True)
class Seat:
    user: AbstractBaseUser
    board: Board
    roles: frozenset[str]

    @property
    def may_write(self) -> bool:
        return bool(self.roles - {"reader"})

    @property
    def may_draw(self) -> bool:
        return bool(self.roles & DRAWERS)

    @property
    def may_review(self) -> bool:
        return bool(self.roles & REVIEWERS)

    @property
    def may_run_board(self) -> bool:
        """Pages, people and format: those who answer for the comic."""
        return bool(self.roles & {"editor", "instructor", "artist"})

    @property
    def may_change_members(self) -> bool:
        return self.may_review

    @property
    def sees_only_own_pages(self) -> bool:
        return self.roles <= {"student"}

    def draws(self, page: Page) -> bool:
        return "artist" in self.roles or ("student" in self.roles and page.drawn_by_id == self.user.pk)


Need = Callable[[Seat], bool]
Row = TypeVar("Row")


def signed_in(request: HttpRequest) -> AbstractBaseUser:
    """Who sends this request. Raises NotAllowed where nobody is signed in."""
    if not isinstance(request.user, AbstractBaseUser):
        raise NotAllowed("Sign in first.")
    return request.user


def seat_on(user: AbstractBaseUser, board: Board) -> Seat | None:
    member = Member.objects.filter(board=board, user_id=user.pk).first()
    return Seat(user, board, member.role_set) if member and member.roles else None


def seats_of(user: AbstractBaseUser, boards: Iterable[Board]) -> dict[int, Seat]:
    """Board id -> the person's seat there, for many boards at once."""
    by_id = {board.pk: board for board in boards}
    members = Member.objects.filter(user_id=user.pk, board__in=by_id)
    return {member.board_id: Seat(user, by_id[member.board_id], member.role_set) for member in members}


def require(seat: Seat, allowed: bool) -> Seat:
    if not allowed:
        raise NotAllowed
    return seat


def shown_or_missing(row: Row | None) -> Row:
    if row is None:
        raise NotFound
    return row
