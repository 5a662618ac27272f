from datetime import date

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction

from board.models import Enrolment, SchoolClass
from board.models.enrolment import INSTRUCTOR


@transaction.atomic
def create_class(*, user: AbstractBaseUser, title: str, ends_on: date, **fields: object) -> SchoolClass:
    """Who makes a class instructs it."""
    school_class = SchoolClass.objects.create(title=title, ends_on=ends_on, **fields)
    Enrolment.objects.create(school_class=school_class, user_id=user.pk, place=INSTRUCTOR)
    return school_class


@transaction.atomic
def change_class(*, school_class: SchoolClass, **fields: object) -> SchoolClass:
    for name, value in fields.items():
        setattr(school_class, name, value)
    school_class.save(update_fields=list(fields))
    return school_class
