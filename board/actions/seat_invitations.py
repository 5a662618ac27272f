from collections.abc import Iterable
from datetime import datetime

from django.contrib.auth.models import AbstractBaseUser
from django.core.signing import Signer
from django.db import transaction

from board.access import Seat
from board.actions import expiring_links
from board.actions.members import give_seat, read_roles
from board.actions.people import make_account
from board.models import Member, SeatInvitation

SIGNER = Signer(salt="seat-invitation")


@transaction.atomic
def invite_to_seat(*, seat: Seat, roles: Iterable[str], expires_at: datetime, uses: int = 1) -> SeatInvitation:
    """Raises NotValid for roles that there are not, and for an end that is past."""
    return expiring_links.make_link(
        seat.board.seat_invitations, expires_at=expires_at, uses=uses, made_by=seat.user, roles=read_roles(roles)
    )


def secret_of(invitation: SeatInvitation) -> str:
    return expiring_links.secret_of(invitation, SIGNER)


@transaction.atomic
def seat_that_opens(*, secret: str) -> SeatInvitation:
    """For whoever holds the link, before they take it up. Raises what taking it up would."""
    return expiring_links.still_open(SeatInvitation, secret, SIGNER, "whoever sent it to you")


@transaction.atomic
def accept_seat_invitation(
    *, secret: str, user: AbstractBaseUser | None = None, username: str = "", password: str = "", name: str = ""
) -> Member:
    """By whoever is signed in, or by somebody new, whose account is made now. Who has a seat there keeps it as it is, and the link
    holds as often as before."""
    invitation = seat_that_opens(secret=secret)
    person = user or make_account(username=username, password=password, name=name)
    member = give_seat(board=invitation.board, user=person, roles=invitation.roles, actor=person)
    expiring_links.use_up(invitation)
    return member
