from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.body import Body, json_field
from api.endpoint import Endpoint
from board.access import access_hand_in, access_work, is_ones_own
from board.actions.hand_ins import hand_in_stage
from board.models import HandIn
from board.stages.order import STAGES

FILES = {
    "type": "array", "items": {
        "type": "object", "required": ["page", "revision", "sha256"],
        "properties": {"page": {"type": "integer"}, "revision": {"type": "integer"}, "sha256": {"type": "string"}},
    },
}


class NewHandIn(Body):
    stage = serializers.ChoiceField(STAGES)


class HandInSerializer(serializers.ModelSerializer):
    """A receipt: its number, the time, and the digest over all files."""

    receipt = serializers.CharField()
    stage = serializers.ChoiceField(STAGES)
    number_in_stage = serializers.IntegerField(help_text="1, 2, 3… among the hand-ins of its stage.")
    files = json_field(FILES)
    assignment = serializers.IntegerField(source="work.assignment_id")
    assignment_title = serializers.CharField(source="work.assignment.title")
    by = serializers.CharField(source="work.enrolment.shown_name")

    class Meta:
        model = HandIn
        fields = ["id", "work", "assignment", "assignment_title", "by", "stage", "number", "number_in_stage", "receipt",
                  "handed_in_at", "due_at", "minutes_late", "files", "digest"]


class WorkHandIns(Endpoint):
    """All pages of a stage at once. What was handed in last counts."""

    shape = HandInSerializer
    lists = True
    reach = access_work
    needs = {"POST": is_ones_own}
    bodies = {"POST": NewHandIn}
    makes = "hand-in"

    def get(self, request: Request, pk: int) -> Response:
        return self.answer_page(HandIn.objects.filter(work=self.row).select_related("work__assignment", "work__enrolment__user"))

    def post(self, request: Request, pk: int) -> Response:
        return self.answer(hand_in_stage(seat=self.seat, work=self.row, **self.read_body()))


class OneHandIn(Endpoint):
    shape = HandInSerializer
    reach = access_hand_in

    def get(self, request: Request, pk: int) -> Response:
        return self.answer(self.row)
