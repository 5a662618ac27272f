from datetime import datetime

from django.contrib.auth import get_user_model
from django.contrib.auth.models import AbstractBaseUser
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.core.signing import BadSignature, Signer
from django.db import transaction
from django.utils import timezone

from board.access import ClassSeat
from board.actions.enrolments import enrol_person
from board.actions.people import add_person
from board.errors import AlreadyThere, NotFound, NotValid
from board.models import Enrolment, Invitation
from board.roster_csv import USERNAME

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
    """What the link carries: the row's number under the server's signature."""
    return SIGNER.sign(str(invitation.pk))


@transaction.atomic
def take_back_invitation(*, invitation: Invitation) -> None:
    invitation.delete()


@transaction.atomic
def accept_invitation(
    *, secret: str, user: AbstractBaseUser | None = None, username: str = "", password: str = "", name: str = "", alias: str = "",
    is_minor: bool = False,
) -> Enrolment:
    """By whoever is signed in, or by somebody new, whose account is made now. What the roster says is not for them to change."""
    invitation = open_invitation(secret)
    is_new = user is None
    is_minor = invitation.is_minor or is_minor
    alias = invitation.alias or alias
    if user is None:
        user = _new_person(invitation, username=username, password=password, name=(alias if is_minor else name))
    enrolment = enrol_person(
        school_class=invitation.school_class, user=user, place=invitation.place, alias=alias, is_minor=is_minor,
        made_the_account=is_new,
    )
    invitation.uses_left -= 1
    if invitation.uses_left:
        invitation.save(update_fields=["uses_left"])
    else:
        invitation.delete()  # what it said of its person is in the enrolment now
    return enrolment


def open_invitation(secret: str) -> Invitation:
    """Locked. Raises NotFound alike for one that never was, is used up or has expired."""
    try:
        number = int(SIGNER.unsign(secret))
    except (BadSignature, ValueError):
        number = 0
    rows = Invitation.objects.select_for_update().select_related("school_class")
    invitation = rows.filter(pk=number, uses_left__gt=0, expires_at__gt=timezone.now()).first()
    if invitation is None:
        raise NotFound("This invitation does not hold any more. Ask your instructor for a new one.")
    return invitation


def _new_person(invitation: Invitation, *, username: str, password: str, name: str) -> AbstractBaseUser:
    username = invitation.username or username
    if not USERNAME.match(username):
        raise NotValid("A username is letters, digits and . @ + - _, without spaces.")
    if get_user_model().objects.filter(username__iexact=username).exists():
        raise AlreadyThere(f"“{username}” is taken. If that is you, sign in first and open the link again.")
    try:
        validate_password(password)
    except ValidationError as error:
        raise NotValid(errors={"password": error.messages}) from error
    return add_person(username=username, password=password, name=invitation.name or name)
