"""Whether the sign-in that opened a stream still holds: a stream outlives the request that it began with."""

from dataclasses import dataclass
from importlib import import_module

from django.conf import settings
from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY, get_user_model
from django.contrib.auth.models import AbstractBaseUser
from django.utils.crypto import constant_time_compare
from rest_framework.request import Request

from board.actions.tokens import user_of_token


@dataclass(frozen=True)
class SignIn:
    token: str = ""
    session_key: str = ""

    @classmethod
    def of(cls, request: Request) -> "SignIn":
        if isinstance(request.auth, str):
            return cls(token=request.auth)
        return cls(session_key=request.session.session_key or "")

    def user(self) -> AbstractBaseUser | None:
        """Whose it is; None once they signed out, changed the password or took the token back."""
        return user_of_token(token=self.token) if self.token else _user_of_session(self.session_key)


def _user_of_session(session_key: str) -> AbstractBaseUser | None:
    session = import_module(settings.SESSION_ENGINE).SessionStore(session_key).load()
    if BACKEND_SESSION_KEY not in session:
        return None
    user = get_user_model().objects.filter(pk=session[SESSION_KEY], is_active=True).first()
    if user is None or not constant_time_compare(session.get(HASH_SESSION_KEY, ""), user.get_session_auth_hash()):
        return None
    return user
