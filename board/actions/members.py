from collections.abc import Iterable

from django.contrib.auth import get_user_model
from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction

from board.access import Seat
from board.actions.events import write_event
from board.actions.one_at_a_time import SEATS, one_at_a_time
from board.errors import AlreadyThere, NotPossibleNow, NotValid
from board.models import Board, Member, SeatInvitation
from board.models.member import ROLES
from board.stages.move_rules import REVIEWERS


def read_roles(roles: Iterable[str]) -> list[str]:
    wanted = set(roles)
    if not wanted or wanted - set(ROLES):
        raise NotValid(f"Choose one or more of these roles: {', '.join(ROLES)}.")
    return [role for role in ROLES if role in wanted]


@transaction.atomic
def add_member(*, seat: Seat, username: str, roles: Iterable[str]) -> Member:
    user = get_user_model().objects.filter(username=username, is_active=True).first()
    if user is None:
        raise NotValid(f"Nobody here signs in as “{username}”. Send them a link instead.")
    return give_seat(board=seat.board, user=user, roles=roles, actor=seat.user)


@transaction.atomic
def give_seat(*, board: Board, user: AbstractBaseUser, roles: Iterable[str], actor: AbstractBaseUser) -> Member:
    """Raises AlreadyThere where the person sits there: roles are changed by `change_roles`."""
    member, is_new = Member.objects.get_or_create(board=board, user_id=user.pk, defaults={"roles": read_roles(roles)})
    if not is_new:
        raise AlreadyThere(f"{user.get_username()} is on this board already.")
    write_event(board=board, kind="member-added", actor=actor, member=member.pk)
    return member


@transaction.atomic
def change_roles(*, seat: Seat, member: Member, roles: Iterable[str]) -> Member:
    one_at_a_time(SEATS, seat.board)
    reviewed = bool(member.role_set & REVIEWERS)
    member.roles = read_roles(roles)
    member.save(update_fields=["roles"])
    if not member.role_set & REVIEWERS:
        take_back_links_of(member)
    if reviewed:
        someone_still_reviews(seat)
    write_event(board=seat.board, kind="member-changed", actor=seat.user, member=member.pk)
    return member


@transaction.atomic
def remove_member(*, seat: Seat, member: Member) -> None:
    """What the person wrote and drew stays."""
    one_at_a_time(SEATS, seat.board)
    number = member.pk
    take_back_links_of(member)
    member.delete()
    if member.role_set & REVIEWERS:  # an artist may leave a board that nobody reads any more
        someone_still_reviews(seat)
    write_event(board=seat.board, kind="member-removed", actor=seat.user, member=number)


def take_back_links_of(member: Member) -> None:
    """Who may give no seats any more shall not give them by a link either."""
    SeatInvitation.objects.filter(board=member.board, made_by=member.user).delete()


def someone_still_reviews(seat: Seat) -> None:
    if seat.board.is_assigned:
        return  # the instructors of its class do
    if not any(member.role_set & REVIEWERS for member in Member.objects.filter(board=seat.board, user__is_active=True)):
        raise NotPossibleNow("Somebody has to be editor or instructor on a board, with an account that is not closed.")
