from django.contrib.auth import get_user_model
from django.contrib.auth.models import AbstractBaseUser, User
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.db import transaction

from board.actions.critique_notes import sign_anew
from board.actions.tokens import revoke_tokens
from board.errors import AlreadyThere, NotValid, WrongPassword
from board.models import Enrolment
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
    _refuse_weak("password", password)
    return add_person(username=username, password=password, name=name)


@transaction.atomic
def rename_person(*, person: User, name: str) -> User:
    """How others read it; the username where it is empty."""
    person.first_name, _, person.last_name = name.strip().partition(" ")
    person.save(update_fields=["first_name", "last_name"])
    for place in Enrolment.objects.filter(user=person):
        sign_anew(place, place.shown_name)
    return person


@transaction.atomic
def change_password(*, person: User, old: str, new: str) -> User:
    """Signs out every other session, and takes the tokens of scripts back: they were given for the old one.

    Raises WrongPassword where the old one is not theirs, NotValid where the new one will not do.
    """
    if not person.check_password(old):
        raise WrongPassword
    return give_password(person=person, new=new)


@transaction.atomic
def give_password(*, person: User, new: str) -> User:
    """Without the old one: for whoever runs this Underblue, where it was forgotten or found out. Ends every session, and takes
    tokens back.

    Raises NotValid where it will not do.
    """
    _refuse_weak("new", new, person)
    person.set_password(new)
    person.save(update_fields=["password"])
    revoke_tokens(user=person)
    return person


def _refuse_weak(field: str, password: str, person: User | None = None) -> None:
    try:
        validate_password(password, person)
    except ValidationError as error:
        raise NotValid(errors={field: error.messages}) from error
