from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.body import Body
from api.endpoint import Endpoint
from api.needs import instructs
from board.access import access_class, access_enrolment, visible_enrolments
from board.actions.enrolments import change_enrolment, enrol_by_username
from board.models import Enrolment
from board.models.enrolment import PLACES


class EnrolmentChange(Body):
    alias = serializers.CharField(max_length=60, required=False, allow_blank=True)
    is_minor = serializers.BooleanField(required=False)


class NewEnrolment(EnrolmentChange):
    username = serializers.CharField(max_length=150)
    place = serializers.ChoiceField(PLACES, required=False)


class EnrolmentSerializer(serializers.ModelSerializer):
    username = serializers.CharField(source="user.username")
    name = serializers.CharField(source="shown_name")
    place = serializers.ChoiceField(PLACES)

    class Meta:
        model = Enrolment
        fields = ["id", "school_class", "place", "username", "name", "alias", "is_minor", "enrolled_at"]


class ClassEnrolments(Endpoint):
    """Who is in the class: instructors see everybody, students themselves."""

    shape = EnrolmentSerializer
    lists = True
    reach = access_class
    needs = {"POST": instructs}
    bodies = {"POST": NewEnrolment}
    makes = "enrolment"

    def get(self, request: Request, pk: int) -> Response:
        return self.answer_page(visible_enrolments(self.seat))

    def post(self, request: Request, pk: int) -> Response:
        return self.answer(enrol_by_username(school_class=self.row, **self.read_body()))


class OneEnrolment(Endpoint):
    shape = EnrolmentSerializer
    reach = access_enrolment
    needs = {"PATCH": instructs}
    bodies = {"PATCH": EnrolmentChange}

    def get(self, request: Request, pk: int) -> Response:
        return self.answer(self.row)

    def patch(self, request: Request, pk: int) -> Response:
        return self.answer(change_enrolment(enrolment=self.row, **self.read_body()))
