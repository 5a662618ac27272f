"""Scripts sign in with `Authorization: Bearer TOKEN`."""

from django.contrib.auth.models import AbstractBaseUser
from drf_spectacular.extensions import OpenApiAuthenticationExtension
from rest_framework.authentication import BaseAuthentication, get_authorization_header
from rest_framework.exceptions import AuthenticationFailed
from rest_framework.request import Request

from board.actions.tokens import user_of_token


class TokenAuthentication(BaseAuthentication):
    def authenticate(self, request: Request) -> tuple[AbstractBaseUser, str] | None:
        words = get_authorization_header(request).split()
        if not words or words[0].lower() != b"bearer":
            return None
        token = words[1].decode("latin-1") if len(words) == 2 else ""
        user = user_of_token(token=token) if token else None
        if user is None:
            raise AuthenticationFailed("This token is not known, or it was taken back.")
        return user, token

    def authenticate_header(self, request: Request) -> str:
        return 'Bearer realm="api"'


class TokenScheme(OpenApiAuthenticationExtension):
    target_class = TokenAuthentication
    name = "token"

    def get_security_definition(self, auto_schema: object) -> dict:
        return {"type": "http", "scheme": "bearer"}
