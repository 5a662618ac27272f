from collections.abc import Sequence

from django.db.models import Count
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.body import Body, json_field
from api.endpoint import Endpoint
from api.finite_number import FiniteNumber
from api.model_sheets import SMALLEST_M, TALLEST_M, ModelSheetSerializer
from api.needs import may_keep_cast
from board.access import access_board, access_character
from board.actions.cast import add_character, change_character, remove_character
from board.actions.cast_merging import merge_characters
from board.actions.figure_inputs import heads_by_page
from board.models import Character, Figure
from board.models.character import AGE_BANDS
from board.models.model_sheet import height_on, proportions_on

SHARES = {"type": "object", "additionalProperties": {"type": "number"}, "description": "Shares of the stature, by the sheets."}
HEADS = {
    "type": "array", "description": "[page number, heads, one sigma] as the pages were measured.",
    "items": {"type": "array", "items": {"type": "number"}, "minItems": 3, "maxItems": 3},
}


class SizeSerializer(serializers.Serializer):
    """As the character is measured from a page on, until the next one."""

    from_page = serializers.IntegerField()
    height_m = serializers.FloatField(allow_null=True)
    head_count = serializers.FloatField(allow_null=True)


class NewCharacter(Body):
    """A made-up figure. No measures of real people, and of children least of all, belong here."""

    name = serializers.CharField(max_length=60)
    key = serializers.RegexField(r"^[a-z0-9]$", required=False)
    height_m = FiniteNumber(min_value=SMALLEST_M, max_value=TALLEST_M, required=False, allow_null=True)
    age_band = serializers.ChoiceField(AGE_BANDS, required=False, allow_blank=True)
    preset = serializers.CharField(required=False, allow_blank=True, max_length=20)


class CharacterSerializer(serializers.ModelSerializer):
    age_band = serializers.CharField()
    sheets = ModelSheetSerializer(many=True)
    head_count = serializers.SerializerMethodField()
    segments = serializers.SerializerMethodField()
    sizes = serializers.SerializerMethodField()
    heads_by_page = serializers.SerializerMethodField()
    figures = serializers.SerializerMethodField(help_text="So many are marked as this character, on all pages.")

    class Meta:
        model = Character
        fields = ["id", "board", "name", "key", "height_m", "age_band", "preset", "head_count", "segments", "sizes",
                  "sheets", "heads_by_page", "figures", "version"]

    def get_head_count(self, character: Character) -> float | None:
        return proportions_on(character.sheets.all()).head_count

    def get_segments(self, character: Character) -> json_field(SHARES):  # type: ignore[valid-type]
        return dict(proportions_on(character.sheets.all()).segments)

    def get_sizes(self, character: Character) -> SizeSerializer(many=True):  # type: ignore[valid-type]
        sheets = list(character.sheets.all())
        pages = sorted({1, *(sheet.from_page for sheet in sheets)})
        return [{"from_page": page, "height_m": height_on(character, sheets, page),
                 "head_count": proportions_on(sheets, page).head_count} for page in pages]

    def get_heads_by_page(self, character: Character) -> json_field(HEADS):  # type: ignore[valid-type]
        return self.context["heads"].get(character.pk, [])

    def get_figures(self, character: Character) -> int:
        return self.context["figures"].get(character.pk, 0)


class CharacterEndpoint(Endpoint):
    shape = CharacterSerializer

    def show(self, rows: Sequence[Character]) -> list[dict]:
        whole = Character.objects.prefetch_related("sheets__reference__picture__renditions").in_bulk([row.pk for row in rows])
        marked = Figure.objects.filter(character__in=whole).values_list("character").annotate(Count("pk")).order_by()
        context = {"heads": heads_by_page(self.seat.board, whole), "figures": dict(marked)}
        return list(CharacterSerializer([whole[row.pk] for row in rows], many=True, context=context).data)


class BoardCharacters(CharacterEndpoint):
    """The cast: made-up figures with their heights, and their proportions as the model sheets have them."""

    lists = True
    queryset = Character.objects.none()
    reach = access_board
    needs = {"POST": may_keep_cast}
    bodies = {"POST": NewCharacter}
    makes = "character"

    def get(self, request: Request, pk: int) -> Response:
        return self.answer_page(Character.objects.filter(board=self.row))

    def post(self, request: Request, pk: int) -> Response:
        return self.answer(add_character(seat=self.seat, **self.read_body()))


class OneCharacter(CharacterEndpoint):
    reach = access_character
    needs = {"PATCH": may_keep_cast, "DELETE": may_keep_cast}
    bodies = {"PATCH": NewCharacter}
    versioned = ("PATCH",)

    def get(self, request: Request, pk: int) -> Response:
        return self.answer(self.row)

    def patch(self, request: Request, pk: int) -> Response:
        version = self.version_named()
        return self.answer(change_character(seat=self.seat, character=self.row, expected_version=version, **self.read_body()))

    def delete(self, request: Request, pk: int) -> Response:
        remove_character(seat=self.seat, character=self.row)
        return Response(status=204)


class Merging(Body):
    character = serializers.IntegerField(min_value=1, help_text="The one that goes; all that is its is then the other's.")


class CharacterMergings(CharacterEndpoint):
    """Two names for one character: figures, model sheets and posts of the one that is named go over, and it is gone."""

    reach = access_character
    needs = {"POST": may_keep_cast}
    bodies = {"POST": Merging}

    def post(self, request: Request, pk: int) -> Response:
        return self.answer(merge_characters(seat=self.seat, kept=self.row, other=self.read_body()["character"]))
