from django.contrib.auth import get_user_model
from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction

from board.actions.classes import is_still_running
from board.actions.critique_notes import sign_anew
from board.actions.one_at_a_time import PLACES, one_at_a_time
from board.actions.people import rename_person
from board.actions.works import make_works
from board.errors import AlreadyThere, NotPossibleNow, NotValid
from board.models import Enrolment, SchoolClass
from board.models.enrolment import INSTRUCTOR, STUDENT


@transaction.atomic
def enrol_person(
    *, school_class: SchoolClass, user: AbstractBaseUser, place: str = STUDENT, alias: str = "", is_minor: bool = False,
    made_the_account: bool = False,
) -> Enrolment:
    """A student gets a board for each assignment that the class was set before."""
    if is_minor and not alias:
        raise NotValid("A minor needs an alias; it stands for the name wherever others read it.")
    enrolment, is_new = Enrolment.objects.get_or_create(
        school_class=school_class, user_id=user.pk,
        defaults={"place": place, "alias": alias, "is_minor": is_minor, "made_the_account": made_the_account},
    )
    if not is_new:
        raise AlreadyThere(f"{enrolment.shown_name} is in this class already.")
    if place == STUDENT:
        make_works(enrolments=[enrolment])
    return enrolment


def enrol_by_username(*, school_class: SchoolClass, username: str, **fields: object) -> Enrolment:
    if fields.get("place", STUDENT) == STUDENT:
        is_still_running(school_class)
    user = get_user_model().objects.filter(username=username, is_active=True).first()
    if user is None:
        raise NotValid(f"Nobody here signs in as “{username}”. Send them an invitation.")
    return enrol_person(school_class=school_class, user=user, **fields)  # type: ignore[arg-type]


@transaction.atomic
def change_enrolment(*, enrolment: Enrolment, **fields: object) -> Enrolment:
    """Of a minor whose account was made for the class the alias alone is kept: it becomes the account's name."""
    for name, value in fields.items():
        setattr(enrolment, name, value)
    if enrolment.is_minor and not enrolment.alias:
        raise NotValid("A minor needs an alias; it stands for the name wherever others read it.")
    enrolment.save(update_fields=list(fields))
    if enrolment.is_minor and enrolment.made_the_account:
        rename_person(person=enrolment.user, name=enrolment.alias)
    sign_anew(enrolment, enrolment.shown_name)
    return enrolment


def someone_still_instructs(enrolment: Enrolment) -> None:
    """Holds, once asked, until the transaction ends. Raises NotPossibleNow for the only one who does."""
    one_at_a_time(PLACES, enrolment.school_class)
    instructors = Enrolment.objects.filter(school_class=enrolment.school_class_id, place=INSTRUCTOR, user__is_active=True)
    if enrolment.instructs and not instructors.exclude(pk=enrolment.pk).exists():
        raise NotPossibleNow("Somebody has to instruct this class, with an account that is not closed.")
