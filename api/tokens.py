"""Tokens for scripts. The token is in the answer this once; only its hash is kept."""

import hashlib
import hmac
import secrets

from django.conf import settings
from django.contrib.auth import authenticate
from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from rest_framework import serializers
from rest_framework.permissions import AllowAny, BasePermission, IsAuthenticated
from rest_framework.request import Request
from rest_framework.response import Response

from api.body import Body
from api.endpoint import Endpoint
from api.idempotency import digest_of, key_of
from board.access import signed_in
from board.actions.kept_answers import keep_answer, open_answer
from board.actions.tokens import issue_token, revoke_tokens
from board.errors import BoardError


class WrongSignIn(BoardError):
    """No account here has this name and password."""


class Credentials(Body):
    username = serializers.CharField(max_length=150)
    password = serializers.CharField(max_length=1000, trim_whitespace=False)


class TokenSerializer(serializers.Serializer):
    token = serializers.CharField()


class Tokens(Endpoint):
    """POST gives a token for a name and password; DELETE takes back all of one's own."""

    shape = TokenSerializer
    bodies = {"POST": Credentials}
    answers_once = False

    def get_permissions(self) -> list[BasePermission]:
        return [AllowAny() if self.request is None or self.request.method == "POST" else IsAuthenticated()]

    def get_authenticators(self) -> list:
        """A request for a token is signed in by its password; an old session or token in it does not matter."""
        is_post = self.request is not None and self.request.method == "POST"
        return [] if is_post else super().get_authenticators()

    def post(self, request: Request) -> Response:
        user = authenticate(request._request, **self.read_body())
        if user is None:
            raise WrongSignIn
        key = key_of(request)
        token = issue_token(user=user) if key is None else token_once(user, key, digest_of(request))
        return Response({"token": token}, status=201)

    def delete(self, request: Request) -> Response:
        revoke_tokens(user=signed_in(request))
        return Response(status=204)


def token_once(user: AbstractBaseUser, key: str, request_digest: str) -> str:
    """The same token for the same key. It is worked out again from a kept random number and the server's secret, never stored."""
    kept = open_answer(user=user, key=key, request_digest=request_digest)
    if kept.status is None:
        salt = secrets.token_urlsafe(32)
        with transaction.atomic():
            issue_token(user=user, token=_token_from(salt))
            keep_answer(answer=kept, status=201, body={"salt": salt})
        return _token_from(salt)
    return _token_from((kept.body or {})["salt"])


def _token_from(salt: str) -> str:
    return hmac.new(settings.SECRET_KEY.encode(), f"token {salt}".encode(), hashlib.sha256).hexdigest()
