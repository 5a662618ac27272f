from datetime import datetime

from django.contrib.auth.models import AbstractBaseUser
from django.core.signing import Signer
from django.db import transaction

from board.access import ClassSeat
from board.actions import expiring_links
from board.actions.classes import is_still_running
from board.actions.enrolments import enrol_person
from board.actions.people import make_account
from board.models import Enrolment, Invitation

SIGNER = Signer(salt="invitation")


@transaction.atomic
def invite(*, seat: ClassSeat, expires_at: datetime, uses: int = 1, **who: object) -> Invitation:
    """`who`: what a line of a roster says of the one person it is for."""
    is_still_running(seat.school_class)
    return expiring_links.make_link(
        seat.school_class.invitations, expires_at=expires_at, uses=uses, made_by=seat.user, **who
    )


def secret_of(invitation: Invitation) -> str:
    return expiring_links.secret_of(invitation, SIGNER)


@transaction.atomic
def what_it_opens(*, secret: str) -> Invitation:
    """For whoever holds the link, before they take it up. Raises what taking it up would."""
    invitation = expiring_links.still_open(Invitation, secret, SIGNER, "your instructor")
    is_still_running(invitation.school_class)
    return invitation


@transaction.atomic
def accept_invitation(
    *, secret: str, user: AbstractBaseUser | None = None, username: str = "", password: str = "", name: str = "", alias: str = "",
    is_minor: bool = False,
) -> Enrolment:
    """By whoever is signed in, or by somebody new, whose account is made now.

    What the roster says is not for them to change; but of who says that they are a minor the alias alone is kept.
    """
    invitation = what_it_opens(secret=secret)
    is_new = user is None
    is_minor = invitation.is_minor or is_minor
    alias = invitation.alias or alias
    if user is None:
        name = alias if is_minor else invitation.name or name
        user = make_account(username=invitation.username or username, password=password, name=name)
    enrolment = enrol_person(
        school_class=invitation.school_class, user=user, place=invitation.place, alias=alias, is_minor=is_minor,
        made_the_account=is_new,
    )
    expiring_links.use_up(invitation)
    return enrolment
