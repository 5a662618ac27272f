from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.body import Body
from api.endpoint import Endpoint
from api.needs import may_write
from board.access import access_board
from board.actions.notes import send_held_notes


class Sending(Body):
    notes = serializers.ListField(
        child=serializers.IntegerField(min_value=1), required=False, max_length=1000, help_text="Left out: all that you hold here."
    )


class SentSerializer(serializers.Serializer):
    sent = serializers.ListField(child=serializers.IntegerField())


class BoardSendings(Endpoint):
    """Sends one's held notes, together."""

    shape = SentSerializer
    reach = access_board
    needs = {"POST": may_write}
    bodies = {"POST": Sending}

    def post(self, request: Request, pk: int) -> Response:
        sent = send_held_notes(seat=self.seat, notes=self.read_body().get("notes"))
        return self.answer({"sent": [note.pk for note in sent]})
