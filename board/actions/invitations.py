from datetime import datetime

from django.contrib.auth.models import AbstractBaseUser
from django.core.signing import Signer
from django.db import transaction
from django.utils import timezone

from board.access import ClassSeat
from board.actions import expiring_links
from board.actions.enrolments import enrol_person
from board.actions.people import make_account
from board.errors import NotValid
from board.models import Enrolment, Invitation

SIGNER = Signer(salt="invitation")


@transaction.atomic
def invite(*, seat: ClassSeat, expires_at: datetime, uses: int = 1, **who: object) -> Invitation:
    """`who`: what a line of a roster says of the one person it is for."""
    if expires_at <= timezone.now():
        raise NotValid("An invitation ends later than now.")
    # What a roster said of somebody who never came is kept no longer than their link holds.
    Invitation.objects.filter(school_class=seat.school_class, expires_at__lt=timezone.now()).delete()
    return Invitation.objects.create(
        school_class=seat.school_class, expires_at=expires_at, uses_left=uses, made_by_id=seat.user.pk, **who
    )


def secret_of(invitation: Invitation) -> str:
    return expiring_links.secret_of(invitation, SIGNER)


@transaction.atomic
def accept_invitation(
    *, secret: str, user: AbstractBaseUser | None = None, username: str = "", password: str = "", name: str = "", alias: str = "",
    is_minor: bool = False,
) -> Enrolment:
    """By whoever is signed in, or by somebody new, whose account is made now. What the roster says is not for them to change."""
    invitation = expiring_links.still_open(Invitation, secret, SIGNER, "your instructor")
    is_new = user is None
    is_minor = invitation.is_minor or is_minor
    alias = invitation.alias or alias
    if user is None:
        name = invitation.name or (alias if is_minor else name)
        user = make_account(username=invitation.username or username, password=password, name=name)
    enrolment = enrol_person(
        school_class=invitation.school_class, user=user, place=invitation.place, alias=alias, is_minor=is_minor,
        made_the_account=is_new,
    )
    expiring_links.use_up(invitation)
    return enrolment
