"""What links into a class and links to a board have in common: what they carry, whether they hold, and that they are used up."""

from typing import TypeVar

from django.core.signing import BadSignature, Signer
from django.db import transaction
from django.utils import timezone

from board.errors import NotFound
from board.models.expiring_link import ExpiringLink

Link = TypeVar("Link", bound=ExpiringLink)


def secret_of(link: ExpiringLink, signer: Signer) -> str:
    """What the link carries: the row's number under the server's signature."""
    return signer.sign(str(link.pk))


def still_open(kind: type[Link], secret: str, signer: Signer, ask: str) -> Link:
    """Locked. Raises NotFound alike for one that never was, is used up or has expired; `ask` names whom to ask for another."""
    try:
        number = int(signer.unsign(secret))
    except (BadSignature, ValueError):
        number = 0
    rows = kind._default_manager.select_for_update()
    link = rows.filter(pk=number, uses_left__gt=0, expires_at__gt=timezone.now()).first()
    if link is None:
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
