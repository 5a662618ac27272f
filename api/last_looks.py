from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.body import Body
from api.endpoint import Endpoint
from board.access import access_board, access_page
from board.actions.last_looks import keep_last_look
from board.models import LastLook


class Look(Body):
    event = serializers.IntegerField(min_value=0, max_value=2**53, help_text="Number of the last event that was seen.")


class LastLookSerializer(serializers.ModelSerializer):
    class Meta:
        model = LastLook
        fields = ["event", "at"]


class BoardLastLook(Endpoint):
    """How far you have seen this board: what came after it counts as new on its pages."""

    shape = LastLookSerializer
    reach = access_board
    bodies = {"PUT": Look}

    def put(self, request: Request, pk: int) -> Response:
        return self.answer(keep_last_look(seat=self.seat, **self.read_body()))


class PageLastLook(Endpoint):
    """The same of one page."""

    shape = LastLookSerializer
    reach = access_page
    bodies = {"PUT": Look}

    def put(self, request: Request, pk: int) -> Response:
        return self.answer(keep_last_look(seat=self.seat, page=self.row, **self.read_body()))
