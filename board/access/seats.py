"""Who sits where: a `Seat` is one person on one board, with what their roles allow."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import TypeVar

from django.contrib.auth.models import AbstractBaseUser
from django.http import HttpRequest

from board.errors import NotAllowed, NotFound
from board.models import Board, Enrolment, Member, Page
from board.models.assignment import AT_ONCE
from board.models.enrolment import INSTRUCTOR
from board.read_once import read_once
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
    def may_change_board(self) -> bool:
        """Title, format, checks. A board that belongs to an assignment has them from there."""
        return self.may_run_board and not self.board.is_assigned

    @property
    def may_change_members(self) -> bool:
        return self.may_review

    @property
    def may_invite(self) -> bool:
        """By a link. To a board that belongs to an assignment people come by its class."""
        return self.may_change_members and not self.board.is_assigned

    @property
    def sees_only_own_pages(self) -> bool:
        return self.roles <= {"student"}

    @property
    def works_alone(self) -> bool:
        """A student on the board that they were given for an assignment: how many pages it has is not for them to say."""
        return self.board.is_assigned and self.sees_only_own_pages

    @property
    def may_add_pages(self) -> bool:
        return self.may_run_board or (self.may_draw and not self.works_alone)

    @property
    def may_keep_cast(self) -> bool:
        return self.may_run_board or (self.may_draw and not (self.works_alone and self.board.cast_is_given))

    @property
    def may_add_references(self) -> bool:
        return self.may_write and not (self.works_alone and self.board.set_is_given)

    @property
    def measured_notes_wait(self) -> bool:
        """Whether what was measured is not shown to this person at once."""
        return self.sees_only_own_pages and self.board.measured_shown != AT_ONCE

    def draws(self, page: Page) -> bool:
        return "artist" in self.roles or ("student" in self.roles and page.drawn_by_id == self.user.pk)


Need = Callable[[Seat], bool]
Row = TypeVar("Row")
AnySeat = TypeVar("AnySeat")


def signed_in(request: HttpRequest) -> AbstractBaseUser:
    """Who sends this request. Raises NotAllowed where nobody is signed in."""
    if not isinstance(request.user, AbstractBaseUser):
        raise NotAllowed("Sign in first.")
    return request.user


@read_once
def seat_on(user: AbstractBaseUser, board: Board) -> Seat | None:
    """A member's seat; on a board that was made from an assignment, its class's instructors sit by right of the class."""
    member = Member.objects.filter(board=board, user_id=user.pk).first()
    if member and member.roles:
        return Seat(user, board, member.role_set)
    instructs = Enrolment.objects.filter(user_id=user.pk, place=INSTRUCTOR, school_class__assignments__works__board=board)
    return Seat(user, board, frozenset({"instructor"})) if board.is_assigned and instructs.exists() else None


def seats_of(user: AbstractBaseUser, boards: Iterable[Board]) -> dict[int, Seat]:
    """Board id -> the person's seat there, for many boards at once."""
    by_id = {board.pk: board for board in boards}
    members = Member.objects.filter(user_id=user.pk, board__in=by_id)
    return {member.board_id: Seat(user, by_id[member.board_id], member.role_set) for member in members}


def require(seat: AnySeat, allowed: bool) -> AnySeat:
    if not allowed:
        raise NotAllowed
    return seat


def shown_or_missing(row: Row | None) -> Row:
    if row is None:
        raise NotFound
    return row
