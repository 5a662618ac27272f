from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.body import Body
from api.endpoint import Endpoint
from api.finite_number import FiniteNumber
from api.landmarks_field import LandmarksField
from api.needs import may_keep_cast
from api.references import ReferenceSerializer
from board.access import access_character, access_model_sheet
from board.actions.model_sheets import add_model_sheet, change_model_sheet, remove_model_sheet
from board.models import ModelSheet
from board.models.model_sheet import VIEWS

SMALLEST_M, TALLEST_M = 0.05, 100.0  # of a character


class ModelSheetSerializer(serializers.ModelSerializer):
    reference = ReferenceSerializer()
    view = serializers.ChoiceField(VIEWS)
    landmarks = LandmarksField()

    class Meta:
        model = ModelSheet
        fields = ["id", "character", "reference", "view", "from_page", "height_m", "landmarks", "version"]


class SheetChange(Body):
    view = serializers.ChoiceField(VIEWS, required=False)
    from_page = serializers.IntegerField(min_value=1, max_value=100_000, required=False)
    height_m = FiniteNumber(min_value=SMALLEST_M, max_value=TALLEST_M, required=False, allow_null=True,
                            help_text="Of who has grown by then; without one the height before it goes on.")
    landmarks = LandmarksField(required=False)


class NewSheet(SheetChange):
    reference = serializers.IntegerField(min_value=1)


class CharacterSheets(Endpoint):
    """The pictures that show a character from one side each; a later version holds from a later page."""

    shape = ModelSheetSerializer
    lists = True
    queryset = ModelSheet.objects.none()
    ordering = ("from_page", "pk")
    reach = access_character
    needs = {"POST": may_keep_cast}
    bodies = {"POST": NewSheet}
    makes = "model-sheet"

    def get(self, request: Request, pk: int) -> Response:
        sheets = ModelSheet.objects.filter(character=self.row).select_related("reference__picture", "reference__uploaded_by")
        return self.answer_page(sheets.prefetch_related("reference__picture__renditions"))

    def post(self, request: Request, pk: int) -> Response:
        return self.answer(add_model_sheet(seat=self.seat, character=self.row, **self.read_body()))


class OneModelSheet(Endpoint):
    shape = ModelSheetSerializer
    reach = access_model_sheet
    needs = {"PATCH": may_keep_cast, "DELETE": may_keep_cast}
    bodies = {"PATCH": SheetChange}
    versioned = ("PATCH",)

    def get(self, request: Request, pk: int) -> Response:
        return self.answer(self.row)

    def patch(self, request: Request, pk: int) -> Response:
        version = self.version_named()
        return self.answer(change_model_sheet(seat=self.seat, sheet=self.row, expected_version=version, **self.read_body()))

    def delete(self, request: Request, pk: int) -> Response:
        remove_model_sheet(seat=self.seat, sheet=self.row)
        return Response(status=204)
