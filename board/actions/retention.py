"""Classes whose time is over: their students' data is deleted, and the empty class with it."""

from datetime import date

from django.db import transaction

from board.actions.student_deletion import delete_student
from board.models import Enrolment, SchoolClass
from board.models.enrolment import STUDENT


def expired_classes(today: date) -> list[SchoolClass]:
    return [one for one in SchoolClass.objects.filter(ends_on__lt=today) if one.kept_until < today]


@transaction.atomic
def delete_class(*, school_class: SchoolClass) -> int:
    """How many students' data went."""
    students = list(Enrolment.objects.filter(school_class=school_class, place=STUDENT).select_related("user"))
    for enrolment in students:
        delete_student(enrolment=enrolment)
    school_class.delete()
    return len(students)
