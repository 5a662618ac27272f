"""Browsers sign in once; their writes carry the header `X-CSRFToken`."""

from django.conf import settings
from drf_spectacular.extensions import OpenApiAuthenticationExtension
from rest_framework import authentication
from rest_framework.exceptions import PermissionDenied
from rest_framework.request import Request

from board.errors import BoardError


class CsrfFailed(BoardError):
    """This page is older than the sign-in that holds now. Open it anew, then send it once more."""

    status = 403


class SessionAuthentication(authentication.SessionAuthentication):
    """As the framework does it; of our own so that it is described beside tokens, and its refusal has a type of its own."""

    def enforce_csrf(self, request: Request) -> None:
        try:
            super().enforce_csrf(request)
        except PermissionDenied as error:
            raise CsrfFailed from error


class SessionScheme(OpenApiAuthenticationExtension):
    target_class = SessionAuthentication
    name = "session"

    def get_security_definition(self, auto_schema: object) -> dict:
        return {"type": "apiKey", "in": "cookie", "name": settings.SESSION_COOKIE_NAME}
