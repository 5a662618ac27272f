"""Scripts sign in with `Authorization: Bearer TOKEN`."""

from django.contrib.auth.models import AbstractBaseUser
from drf_spectacular.extensions import OpenApiAuthenticationExtension
from rest_framework.authentication import BaseAuthentication, get_authorization_header
from rest_framework.exceptions import AuthenticationFailed
from rest_framework.request import Request

from board.actions.tokens import user_of_token

HOW_SENT = "A token is sent as `Authorization: Bearer TOKEN`"
WHERE_FROM = "POST /api/v1/tokens gives one for a name and password"


class TokenAuthentication(BaseAuthentication):
    """Another scheme is let pass: it may be meant for a server that stands before this one, and a session may sign in beside it."""

    def authenticate(self, request: Request) -> tuple[AbstractBaseUser, str] | None:
        words = get_authorization_header(request).split()
        if not words or words[0].lower() != b"bearer":
            return None
        if len(words) != 2:
            raise AuthenticationFailed(f"{HOW_SENT}: one word after “Bearer”.")
        token = words[1].decode("latin-1")
        user = user_of_token(token=token)
        if user is None:
            raise AuthenticationFailed(f"This token is not known, or it was taken back. {WHERE_FROM}.")
        return user, token

    def authenticate_header(self, request: Request) -> str:
        return 'Bearer realm="api"'


def how_to_sign_in(request: Request) -> str:
    """For who is not signed in: what is the matter with what they sent, if they sent anything."""
    if get_authorization_header(request):
        return f"You are not signed in. {HOW_SENT}, not as it came here. {WHERE_FROM}."
    return f"You are not signed in. {HOW_SENT}; {WHERE_FROM}."


class TokenScheme(OpenApiAuthenticationExtension):
    target_class = TokenAuthentication
    name = "token"

    def get_security_definition(self, auto_schema: object) -> dict:
        return {"type": "http", "scheme": "bearer"}
