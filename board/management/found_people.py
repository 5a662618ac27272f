"""People that a command names."""

from django.contrib.auth import get_user_model
from django.contrib.auth.models import User
from django.core.management.base import CommandError


def account_of(username: str) -> User:
    person = get_user_model().objects.filter(username=username).first()
    if person is None:
        raise CommandError(f"Nobody here signs in as “{username}”.")
    return person
