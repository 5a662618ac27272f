"""Hand-in, sign-off and send-back: what may be done now, and doing it."""

from typing import Any

from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.body import Body
from api.endpoint_schema import EndpointSchema
from api.needs import may_write
from api.pages import PageEndpoint
from api.panels import PanelEndpoint
from board.access import access_page, access_panel
from board.actions.stage_moves import facts_of_page, facts_of_panel, move_page, move_panel
from board.models import Note
from board.models.note import ANSWERED, OPEN
from board.stages.move_rules import MOVES, MoveFacts, refusal_of
from board.stages.order import STAGES


class StageMove(Body):
    move = serializers.ChoiceField(list(MOVES))
    to_stage = serializers.ChoiceField(STAGES, required=False, allow_null=True, help_text="For send-back: this one or an earlier.")
    why = serializers.CharField(required=False, allow_blank=True, max_length=20_000, help_text="Becomes a note.")
    revision = serializers.IntegerField(
        required=False, allow_null=True, min_value=1,
        help_text="The picture that you looked at. Where the page has another one by now, it does not move.",
    )


class RefusalSerializer(serializers.Serializer):
    code = serializers.CharField()
    reason = serializers.CharField()


class MoveStateSerializer(serializers.Serializer):
    move = serializers.ChoiceField(list(MOVES))
    refusal = RefusalSerializer(allow_null=True)


class OpenNotesSerializer(serializers.Serializer):
    must = serializers.IntegerField()
    other = serializers.IntegerField()
    answered = serializers.IntegerField()


class MovesSerializer(serializers.Serializer):
    """Each move with what stands against it now, and the notes by people that one would leave behind."""

    moves = MoveStateSerializer(many=True)
    open = OpenNotesSerializer()


class MovesSchema(EndpointSchema):
    def _shape(self, status: int) -> Any:
        return MovesSerializer if self.method == "GET" else super()._shape(status)


def moves_now(facts: MoveFacts, **of: object) -> dict:
    notes = [(note.tone, note.state) for note in Note.objects.filter(check_id="", state__in=(OPEN, ANSWERED), **of)]
    must, opened = notes.count(("must", OPEN)), sum(state == OPEN and tone != "keep" for tone, state in notes)
    counts = {"must": must, "other": opened - must, "answered": sum(state != OPEN for _, state in notes)}
    moves = [{"move": move, "refusal": refusal_of(move, facts)} for move in MOVES]
    return MovesSerializer({"moves": moves, "open": counts}).data


class PageStageMoves(PageEndpoint):
    schema = MovesSchema()
    reach = access_page
    needs = {"POST": may_write}
    bodies = {"POST": StageMove}
    versioned = ("POST",)

    def get(self, request: Request, pk: int) -> Response:
        return Response(moves_now(facts_of_page(self.seat, self.row), page=self.row))

    def post(self, request: Request, pk: int) -> Response:
        version = self.version_named()
        return self.answer(move_page(seat=self.seat, page=self.row, expected_version=version, **self.read_body()))


class PanelStageMoves(PanelEndpoint):
    schema = MovesSchema()
    reach = access_panel
    needs = {"POST": may_write}
    bodies = {"POST": StageMove}
    versioned = ("POST",)

    def get(self, request: Request, pk: int) -> Response:
        return Response(moves_now(facts_of_panel(self.seat, self.row), panel=self.row))

    def post(self, request: Request, pk: int) -> Response:
        version = self.version_named()
        return self.answer(move_panel(seat=self.seat, panel=self.row, expected_version=version, **self.read_body()))
