"""Guessing passwords is slow here, in whatever process one guesses: wrong ones are counted in the database."""

from datetime import timedelta

from django.conf import settings
from django.db import transaction
from django.utils import timezone
from django.utils.crypto import salted_hmac

from board.errors import TooManyTries
from board.models import SignInFailure

UNITS_S = {"s": 1, "m": 60, "h": 3600, "d": 86400}
# So many times as often for one name from everywhere, and from one address for all names: a school has one for all its classes.
FOR_MANY = 10


def refuse_too_many(*, username: str, address: str) -> None:
    """Raises TooManyTries while no password is looked at for this name from there, the right one neither."""
    most, period = _rate()
    now = timezone.now()
    failures = SignInFailure.objects.filter(at__gt=now - period).order_by("-at")
    name, from_there = {"name_digest": _digest(username)}, {"address_digest": _digest(address)}
    for who, limit in ((name | from_there, most), (name, FOR_MANY * most), (from_there, FOR_MANY * most)):
        times = failures.filter(**who).values_list("at", flat=True)[limit - 1:limit]
        if times:
            raise TooManyTries(wait=(times[0] + period - now).total_seconds())


@transaction.atomic
def count_failure(*, username: str, address: str) -> None:
    SignInFailure.objects.filter(at__lt=timezone.now() - _rate()[1]).delete()
    SignInFailure.objects.create(name_digest=_digest(username), address_digest=_digest(address))


def _rate() -> tuple[int, timedelta]:
    """("20/min") -> 20 in a minute."""
    most, period = settings.SIGN_IN_RATE.split("/")
    return int(most), timedelta(seconds=UNITS_S[period[0]])


def _digest(value: str) -> str:
    return salted_hmac("sign-in failure", value.casefold(), algorithm="sha256").hexdigest()
