"""Browsers sign in once; their writes carry the header `X-CSRFToken`."""

from django.conf import settings
from drf_spectacular.extensions import OpenApiAuthenticationExtension
from rest_framework import authentication


class SessionAuthentication(authentication.SessionAuthentication):
    """As the framework does it; of our own so that it is described beside tokens."""


class SessionScheme(OpenApiAuthenticationExtension):
    target_class = SessionAuthentication
    name = "session"

    def get_security_definition(self, auto_schema: object) -> dict:
        return {"type": "apiKey", "in": "cookie", "name": settings.SESSION_COOKIE_NAME}
