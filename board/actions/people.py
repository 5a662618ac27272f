from django.contrib.auth import get_user_model
from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction


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
