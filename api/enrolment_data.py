"""What is kept of one student: taken along as a file, or deleted. By the student themself, or by an instructor."""

from django.http.response import HttpResponseBase
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.endpoint import Endpoint
from api.picture_answers import AnyAccept
from api.zip_answers import ZIP, zip_answer
from board.access import access_enrolment
from board.actions.student_deletion import delete_student, what_would_go
from board.actions.student_export import export_student


class EnrolmentExport(Endpoint):
    """All of it, as a zip: facts as JSON, and pictures, sheets and own references as they were uploaded, and each work's
    script."""

    content_negotiation_class = AnyAccept
    media_types = (ZIP,)
    reach = access_enrolment

    def get(self, request: Request, pk: int) -> HttpResponseBase:
        return zip_answer(request, export_student(self.row), "my-class-work.zip")


class DeletionSerializer(serializers.Serializer):
    """What goes, and what classmates keep without a name."""

    boards = serializers.IntegerField()
    pages = serializers.IntegerField()
    pictures = serializers.IntegerField()
    sheets = serializers.IntegerField()
    references = serializers.IntegerField(help_text="That the student brought.")
    characters = serializers.IntegerField(help_text="Of the student's own making.")
    hand_ins = serializers.IntegerField()
    critiques_received = serializers.IntegerField(help_text="Who wrote them keeps their words, without the work.")
    account = serializers.BooleanField()
    critiques_kept_without_name = serializers.IntegerField()


class EnrolmentDeletion(Endpoint):
    """GET says what a deletion would take, POST does it: there is no way back."""

    shape = DeletionSerializer
    reach = access_enrolment
    statuses = {"POST": 200}
    answers_once = False  # whose account it was may be gone with it

    def get(self, request: Request, pk: int) -> Response:
        return self.answer(what_would_go(self.row))

    def post(self, request: Request, pk: int) -> Response:
        return self.answer(delete_student(enrolment=self.row))
