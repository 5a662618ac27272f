"""How Django asks for a password, with a limit to wrong ones: on the sign-in screen, in the admin's, and for tokens."""

from typing import Any

from django.conf import settings
from django.contrib.admin.forms import AdminAuthenticationForm
from django.contrib.auth.forms import AuthenticationForm
from django.core.exceptions import ValidationError
from django.http import HttpRequest

from board.actions.sign_in_failures import count_failure, refuse_too_many
from board.errors import TooManyTries


class RefusesTooMany:
    """Asked before the password is looked at, which takes a good deal of memory. Raises TooManyTries."""

    def authenticate(self, request: HttpRequest | None, username: str = "", password: str = "") -> None:
        if request is not None:
            refuse_too_many(username=username, address=address_of(request))


class CountsFailures:
    """Asked last: nobody before it knew them."""

    def authenticate(self, request: HttpRequest | None, username: str = "", password: str = "") -> None:
        if request is not None:
            count_failure(username=username, address=address_of(request))


def address_of(request: HttpRequest) -> str:
    """Where it comes from; only what proxies of ours say of that is believed."""
    told = [one.strip() for one in request.headers.get("X-Forwarded-For", "").split(",") if one.strip()]
    if settings.PROXIES and told:
        return told[-min(settings.PROXIES, len(told))]
    return request.META.get("REMOTE_ADDR", "")


class SlowedForm(AuthenticationForm):
    too_many: TooManyTries | None = None

    def clean(self) -> dict[str, Any]:
        try:
            return super().clean()
        except TooManyTries as error:
            self.too_many = error
            raise ValidationError(error.message) from error


class SlowedAdminForm(SlowedForm, AdminAuthenticationForm):
    pass
