from django.contrib.auth import get_user_model
from django.contrib.auth.models import AbstractBaseUser
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.db import transaction

from board.errors import AlreadyThere, NotValid
from board.roster_csv import USERNAME


@transaction.atomic
def add_person(*, username: str, password: str, name: str = "") -> AbstractBaseUser:
    """Somebody who can sign in; the one who is there already under that name, unchanged."""
    users = get_user_model()
    first, _, last = name.partition(" ")
    person, is_new = users.objects.get_or_create(username=username, defaults={"first_name": first, "last_name": last})
    if is_new:
        person.set_password(password)
        person.save(update_fields=["password"])
    return person


@transaction.atomic
def make_account(*, username: str, password: str, name: str = "") -> AbstractBaseUser:
    """For somebody new. Raises NotValid where the username or the password will not do, AlreadyThere where the first is taken."""
    if not USERNAME.match(username):
        raise NotValid("A username is letters, digits and . @ + - _, without spaces.")
    if get_user_model().objects.filter(username__iexact=username).exists():
        raise AlreadyThere(f"“{username}” is taken. If that is you, sign in first.")
    try:
        validate_password(password)
    except ValidationError as error:
        raise NotValid(errors={"password": error.messages}) from error
    return add_person(username=username, password=password, name=name)
