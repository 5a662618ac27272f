from typing import Any

from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.body import Body
from api.dates import DayField
from api.endpoint import Endpoint
from api.needs import instructs
from board.access import access_class, signed_in, visible_classes
from board.actions.classes import change_class, create_class
from board.models import Enrolment, SchoolClass
from board.models.enrolment import PLACES, STUDENT

CAUTION = (
    "Keep no more of a student than the class needs, minors by an alias only, and delete it when the term is over. "
    "The rules of your school and your country come first."
)
TO_STUDENTS = (
    "What is kept of you stands under your progress: take it along, or have it deleted. Others read your alias. "
    "The rules of your school and your country come first."
)


class NewClass(Body):
    title = serializers.CharField(max_length=200)
    term = serializers.CharField(max_length=60, required=False, allow_blank=True)
    ends_on = DayField(help_text="The last day of the term.")
    kept_days = serializers.IntegerField(min_value=0, max_value=3650, required=False, help_text="After the term.")


class ClassSerializer(serializers.ModelSerializer):
    place = serializers.SerializerMethodField()
    enrolment = serializers.SerializerMethodField(help_text="One's own.")
    instructors = serializers.SerializerMethodField()
    students = serializers.SerializerMethodField(help_text="How many; for instructors.")
    kept_until = serializers.DateField()
    caution = serializers.SerializerMethodField()

    class Meta:
        model = SchoolClass
        fields = ["id", "title", "term", "ends_on", "kept_days", "kept_until", "place", "enrolment", "instructors", "students",
                  "caution"]

    def _own(self, one: SchoolClass) -> Enrolment:
        user = self.context["user"]
        return next(enrolment for enrolment in one.enrolments.all() if enrolment.user_id == user.pk)

    @extend_schema_field({"type": "string", "enum": list(PLACES)})
    def get_place(self, one: SchoolClass) -> str:
        return self._own(one).place

    def get_enrolment(self, one: SchoolClass) -> int:
        return self._own(one).pk

    def get_instructors(self, one: SchoolClass) -> list[str]:
        return [enrolment.shown_name for enrolment in one.enrolments.all() if enrolment.instructs]

    def get_students(self, one: SchoolClass) -> int | None:
        places = [enrolment.place for enrolment in one.enrolments.all()]
        return places.count(STUDENT) if self._own(one).instructs else None

    def get_caution(self, one: SchoolClass) -> str:
        return CAUTION if self._own(one).instructs else TO_STUDENTS


class ClassEndpoint(Endpoint):
    shape = ClassSerializer

    def show(self, rows: Any) -> list[dict]:
        pks = [one.pk for one in rows]
        whole = SchoolClass.objects.filter(pk__in=pks).prefetch_related("enrolments__user").in_bulk()
        return list(ClassSerializer([whole[pk] for pk in pks], many=True, context={"user": signed_in(self.request)}).data)


class Classes(ClassEndpoint):
    """One's own classes. Who makes one instructs it."""

    lists = True
    ordering = ("-ends_on", "pk")
    bodies = {"POST": NewClass}
    makes = "class"

    def get(self, request: Request) -> Response:
        return self.answer_page(visible_classes(signed_in(request)))

    def post(self, request: Request) -> Response:
        return self.answer(create_class(user=signed_in(request), **self.read_body()))


class OneClass(ClassEndpoint):
    reach = access_class
    needs = {"PATCH": instructs}
    bodies = {"PATCH": NewClass}

    def get(self, request: Request, pk: int) -> Response:
        return self.answer(self.row)

    def patch(self, request: Request, pk: int) -> Response:
        return self.answer(change_class(school_class=self.row, **self.read_body()))
