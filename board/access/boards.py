from collections.abc import Iterable

from django.contrib.auth.models import AbstractBaseUser
from django.db.models import Q, QuerySet

from board.access.measured import measured_is_shown
from board.access.seats import Need, Seat, require, seat_on, shown_or_missing
from board.models import Board, Member, SeatInvitation


def visible_boards(user: AbstractBaseUser) -> QuerySet[Board]:
    return Board.objects.filter(members__user_id=user.pk)


def counted_for(user: AbstractBaseUser, seats: Iterable[Seat], to_page: str = "") -> Q:
    """What this person sees over several comics, as one condition on pages, or on rows that lead `to_page`."""
    seats = list(seats)
    whole = [seat.board.pk for seat in seats if not seat.sees_only_own_pages]
    partly = Q(board__in=[seat.board.pk for seat in seats if seat.sees_only_own_pages])
    own = Q(**{f"{to_page}drawn_by_id": user.pk}) | Q(**{f"{to_page}is_open_to_students": True})
    in_comic = Q(**{f"{to_page}laid_aside_at__isnull": True})
    return in_comic & (Q(board__in=whole) | partly & (own | Q(page__isnull=True) if to_page else own))


def counted_notes_for(user: AbstractBaseUser, seats: Iterable[Seat]) -> Q:
    """The same on notes: those that were measured count where they are shown."""
    seats = list(seats)
    waiting = Q(board__in=[seat.board.pk for seat in seats if seat.measured_notes_wait])
    return counted_for(user, seats, "page__") & (~waiting | measured_is_shown())


def access_board(user: AbstractBaseUser, pk: int, need: Need | None = None) -> Seat:
    return access_by_board(user, Board.objects.filter(pk=pk).first(), need)


def access_by_board(user: AbstractBaseUser, board: Board | None, need: Need | None = None) -> Seat:
    """For a row of this board; None where there is no such row."""
    seat = shown_or_missing(seat_on(user, board) if board else None)
    return require(seat, need is None or need(seat))


def access_member(user: AbstractBaseUser, pk: int, need: Need | None = None) -> tuple[Seat, Member]:
    member = Member.objects.select_related("user", "board").filter(pk=pk).first()
    seat = access_by_board(user, member.board if member else None, need)
    return seat, shown_or_missing(member)


def may_take_seat_away(seat: Seat, member: Member) -> bool:
    """Anybody may leave; but a board that belongs to an assignment is its student's as long as they are in the class."""
    return seat.may_change_members or (member.user_id == seat.user.pk and not seat.board.is_assigned)


def access_seat_invitation(user: AbstractBaseUser, pk: int) -> tuple[Seat, SeatInvitation]:
    """For those who may invite others to that board; to others there is none."""
    invitation = SeatInvitation.objects.select_related("board").filter(pk=pk).first()
    seat = access_by_board(user, invitation.board if invitation else None)
    return seat, shown_or_missing(invitation if seat.may_invite else None)
