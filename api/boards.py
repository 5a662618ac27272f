from collections.abc import Sequence
from typing import Any

from django.db.models import Count, QuerySet
from django.http.response import HttpResponseBase
from django.utils.text import slugify
from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.body import Body
from api.endpoint import Endpoint
from api.needs import may_change_board
from api.picture_answers import AnyAccept
from api.zip_answers import ZIP, zip_answer
from board.access import Seat, access_board, counted_for, counted_notes_for, seats_of, signed_in, visible_boards
from board.actions.boards import change_board, create_board
from board.actions.comic_files import comic_files
from board.check_registry import CHECKS
from board.models import Board, Note, Page
from board.models.note import OPEN

IS_BOUND = "Whether pages face each other, as in a book; else they follow one another, as on a screen."
FORMAT = ["trim_width_mm", "trim_height_mm", "bleed_mm", "safe_mm"]
ABILITIES = ("draw", "review", "run_board", "change_members", "write")
TOLERANCES = {"type": "object", "additionalProperties": {"type": "object", "additionalProperties": {"type": "number"}}}
MAY = {"type": "object", "properties": {name: {"type": "boolean"} for name in ABILITIES}, "required": list(ABILITIES)}


@extend_schema_field(TOLERANCES)
class TolerancesField(serializers.JSONField):
    """{check: {tolerance: number}}"""

    def to_internal_value(self, data: Any) -> dict:
        value = super().to_internal_value(data)
        if not isinstance(value, dict) or not all(isinstance(own, dict) for own in value.values()):
            raise serializers.ValidationError("Own tolerances are written {check: {tolerance: number}}.")
        for check, own in value.items():
            _only_known(check, own)
        return value


def _only_known(check: str, own: dict) -> None:
    if check not in CHECKS:
        raise serializers.ValidationError(f"There is no check “{check}”.")
    for name, number in own.items():
        if name not in CHECKS[check].tolerances:
            raise serializers.ValidationError(f"The check “{check}” has no tolerance “{name}”.")
        if isinstance(number, bool) or not isinstance(number, (int, float)) or number < 0:
            raise serializers.ValidationError(f"The tolerance “{name}” is a number of 0 or more.")


class NewBoard(Body):
    title = serializers.CharField(max_length=200)
    reading = serializers.ChoiceField(["ltr", "rtl"], required=False)
    is_bound = serializers.BooleanField(required=False, help_text=IS_BOUND)
    trim_width_mm = serializers.FloatField(min_value=1, max_value=5000, required=False)
    trim_height_mm = serializers.FloatField(min_value=1, max_value=5000, required=False)
    bleed_mm = serializers.FloatField(min_value=0, max_value=500, required=False)
    safe_mm = serializers.FloatField(min_value=0, max_value=500, required=False)


class BoardChange(NewBoard):
    own_tolerances = TolerancesField(required=False)
    checks = serializers.ListField(
        child=serializers.ChoiceField(list(CHECKS)), required=False, allow_null=True, help_text="That run; null for all."
    )
    put_away = serializers.BooleanField(required=False, help_text="Stands behind the others in the list of boards.")


class BoardSerializer(serializers.ModelSerializer):
    own_tolerances = TolerancesField()
    checks = serializers.SerializerMethodField()
    roles = serializers.SerializerMethodField()
    may = serializers.SerializerMethodField()
    pages_count = serializers.SerializerMethodField()
    open_notes_count = serializers.SerializerMethodField()
    last_event = serializers.IntegerField(source="events_so_far")

    class Meta:
        model = Board
        fields = ["id", "title", "reading", "is_bound", *FORMAT, "own_tolerances", "checks", "put_away_at", "roles", "may",
                  "pages_count", "open_notes_count", "last_event", "created_at"]

    def _seat(self, board: Board) -> Seat:
        return self.context["seats"][board.pk]

    def get_checks(self, board: Board) -> list[str]:
        """Those that run."""
        return [check for check in CHECKS if check not in board.checks_off]

    def get_roles(self, board: Board) -> list[str]:
        return sorted(self._seat(board).roles)

    @extend_schema_field(MAY)
    def get_may(self, board: Board) -> dict[str, bool]:
        return {ability: getattr(self._seat(board), f"may_{ability}") for ability in ABILITIES}

    def get_pages_count(self, board: Board) -> int:
        return self.context["pages"].get(board.pk, 0)

    def get_open_notes_count(self, board: Board) -> int:
        return self.context["notes"].get(board.pk, 0)


def count_on_boards(rows: QuerySet) -> dict[int, int]:
    return {row["board"]: row["count"] for row in rows.order_by().values("board").annotate(count=Count("pk"))}


class BoardEndpoint(Endpoint):
    shape = BoardSerializer

    def show(self, boards: Sequence[Board]) -> list[dict]:
        user = signed_in(self.request)
        own = getattr(self, "seat", None)
        seats = {own.board.pk: own} if own else seats_of(user, boards)
        pages = Page.objects.filter(counted_for(user, seats.values()))
        notes = Note.objects.filter(counted_notes_for(user, seats.values()), state=OPEN)
        context = {"seats": seats, "pages": count_on_boards(pages), "notes": count_on_boards(notes)}
        return list(BoardSerializer(boards, many=True, context=context).data)


class Boards(BoardEndpoint):
    """One's own boards. Who makes one is artist and editor on it."""

    lists = True
    ordering = ("title", "pk")
    bodies = {"POST": NewBoard}
    makes = "board"

    def get(self, request: Request) -> Response:
        return self.answer_page(visible_boards(signed_in(request)))

    def post(self, request: Request) -> Response:
        return self.answer(create_board(user=signed_in(request), **self.read_body()))


class OneBoard(BoardEndpoint):
    reach = access_board
    needs = {"PATCH": may_change_board}
    bodies = {"PATCH": BoardChange}

    def get(self, request: Request, pk: int) -> Response:
        return self.answer(self.row)

    def patch(self, request: Request, pk: int) -> Response:
        return self.answer(change_board(seat=self.seat, **self.read_body()))


class BoardDrawings(Endpoint):
    """The comic as it stands, as a zip: each page's own picture as it was uploaded, the script, and what the pages are."""

    content_negotiation_class = AnyAccept
    media_types = (ZIP,)
    reach = access_board

    def get(self, request: Request, pk: int) -> HttpResponseBase:
        return zip_answer(request, comic_files(self.seat), f"{slugify(self.row.title) or 'comic'}.zip")
