"""What is kept of one student: taken along as a file, or deleted. By the student themself, or by an instructor."""

from collections.abc import Iterator
from typing import IO

from django.http import StreamingHttpResponse
from django.http.response import HttpResponseBase
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.endpoint import Endpoint
from api.picture_answers import AnyAccept
from board.access import access_enrolment
from board.actions.student_deletion import delete_student, what_would_go
from board.actions.student_export import export_student
from board.picture_files import CHUNK


class EnrolmentExport(Endpoint):
    """All of it, as a zip: facts as JSON, and the pictures as they were uploaded."""

    content_negotiation_class = AnyAccept
    media_types = ("application/zip",)
    reach = access_enrolment

    def get(self, request: Request, pk: int) -> HttpResponseBase:
        headers = {"Content-Disposition": 'attachment; filename="my-class-work.zip"', "Cache-Control": "private, no-store"}
        return StreamingHttpResponse(_chunks(export_student(self.row)), content_type="application/zip", headers=headers)


def _chunks(file: IO[bytes]) -> Iterator[bytes]:
    with file:
        while chunk := file.read(CHUNK):
            yield chunk


class DeletionSerializer(serializers.Serializer):
    """What goes, and what classmates keep without a name."""

    boards = serializers.IntegerField()
    pages = serializers.IntegerField()
    pictures = serializers.IntegerField()
    hand_ins = serializers.IntegerField()
    critiques_received = serializers.IntegerField()
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
