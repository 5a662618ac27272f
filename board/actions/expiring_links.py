"""What links into a class and links to a board have in common: how they are made, what they carry, and how they are used up."""

from datetime import UTC, datetime
from typing import TypeVar

from django.contrib.auth.models import AbstractBaseUser
from django.core.signing import BadSignature, Signer
from django.db import transaction
from django.db.models import Manager
from django.utils import timezone

from board.errors import NotFound, NotValid
from board.models.expiring_link import ExpiringLink

Link = TypeVar("Link", bound=ExpiringLink)


@transaction.atomic
def make_link(links: Manager[Link], *, expires_at: datetime, uses: int, made_by: AbstractBaseUser, **fields: object) -> Link:
    """One more of the `links` of a class or a board; what those said that have ended is kept no longer.

    Raises NotValid for an end that is past.
    """
    if expires_at <= timezone.now():
        raise NotValid("An invitation ends later than now.")
    links.filter(expires_at__lt=timezone.now()).delete()
    return links.create(expires_at=expires_at, uses_left=uses, made_by_id=made_by.pk, **fields)


def secret_of(link: ExpiringLink, signer: Signer) -> str:
    """What the link carries: the row's number and when it was made, under the server's signature."""
    return signer.sign(_signed_of(link))


def _signed_of(link: ExpiringLink) -> str:
    """Numbers are given again where a copy of the database was put back: by its number alone an old link would open another's."""
    return f"{link.pk}-{link.created_at.astimezone(UTC):%Y%m%d%H%M%S%f}"


def still_open(kind: type[Link], secret: str, signer: Signer, ask: str) -> Link:
    """Locked. Raises NotFound alike for one that never was, is used up or has expired; `ask` names whom to ask for another."""
    try:
        signed = signer.unsign(secret)
        number = int(signed.partition("-")[0])
    except (BadSignature, ValueError):
        signed, number = "", 0
    rows = kind._default_manager.select_for_update(no_key=True)
    link = rows.filter(pk=number, uses_left__gt=0, expires_at__gt=timezone.now()).first()
    if link is None or _signed_of(link) != signed:
        raise NotFound(f"This invitation does not hold any more. Ask {ask} for a new one.")
    return link


@transaction.atomic
def use_up(link: ExpiringLink) -> None:
    """Once. With its last use the row goes, and what it said of its person."""
    link.uses_left -= 1
    if link.uses_left:
        link.save(update_fields=["uses_left"])
    else:
        link.delete()


@transaction.atomic
def take_back(*, link: ExpiringLink) -> None:
    link.delete()
