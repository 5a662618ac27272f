from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.body import Body
from api.endpoint import Endpoint
from api.needs import may_write
from api.note_shape import ReplySerializer
from api.notes import LONGEST_BODY
from board.access import access_note
from board.actions.notes import reply_to_note


class NewReply(Body):
    body = serializers.CharField(max_length=LONGEST_BODY)


class NoteReplies(Endpoint):
    shape = ReplySerializer
    lists = True
    reach = access_note
    needs = {"POST": may_write}
    bodies = {"POST": NewReply}

    def get(self, request: Request, pk: int) -> Response:
        return self.answer_page(self.row.replies.select_related("author"))

    def post(self, request: Request, pk: int) -> Response:
        return self.answer(reply_to_note(seat=self.seat, note=self.row, **self.read_body()))
