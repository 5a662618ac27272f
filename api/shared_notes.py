from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.body import Body
from api.endpoint import Endpoint
from api.needs import instructs
from api.notes import LONGEST_BODY
from board.access import access_assignment
from board.actions.shared_notes import give_note_to_all
from board.models.note import TONES


class SharedNote(Body):
    kind = serializers.CharField(max_length=40, help_text="Of the finding.")
    body = serializers.CharField(max_length=LONGEST_BODY)
    tone = serializers.ChoiceField(TONES, required=False)
    criterion = serializers.IntegerField(min_value=1, required=False, allow_null=True)


class GivenSerializer(serializers.Serializer):
    given = serializers.ListField(child=serializers.IntegerField())


class AssignmentSharedNotes(Endpoint):
    """This note to all who have the finding open, each where it was found."""

    shape = GivenSerializer
    reach = access_assignment
    needs = {"POST": instructs}
    bodies = {"POST": SharedNote}

    def post(self, request: Request, pk: int) -> Response:
        given = give_note_to_all(seat=self.seat, assignment=self.row, **self.read_body())
        return self.answer({"given": [note.pk for note in given]})
