from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.body import POLYGON, Body, PolygonField, json_field
from api.endpoint import Endpoint
from api.needs import may_draw
from api.people import PersonSerializer
from api.revision_brief import PictureFields
from api.uploads import UPLOAD_PARSERS, PictureBody
from board.access import access_board, access_sheet, visible_sheets
from board.actions.sheets import cut_sheet, receive_sheet
from board.models import Sheet


class Cut(Body):
    polygon = PolygonField()
    page = serializers.IntegerField(min_value=1)


class Cuts(Body):
    cuts = Cut(many=True)


class FoundSerializer(serializers.Serializer):
    polygon = json_field(POLYGON)


class CutSerializer(FoundSerializer):
    page = serializers.IntegerField()


class SheetSerializer(PictureFields):
    route = "sheet"

    found = FoundSerializer(many=True)
    cuts = CutSerializer(many=True)
    uploaded_by = PersonSerializer(allow_null=True)

    class Meta:
        model = Sheet
        fields = ["id", "board", *PictureFields.picture_fields, "file_name", "found", "cuts", "uploaded_by", "uploaded_at"]


class BoardSheets(Endpoint):
    """Pictures that hold several thumbnails each. A worker looks for them; people say which is which page."""

    shape = SheetSerializer
    lists = True
    ordering = ("-pk",)
    parser_classes = UPLOAD_PARSERS
    reach = access_board
    needs = {"POST": may_draw}
    bodies = {"POST": PictureBody}
    makes = "sheet"

    def get(self, request: Request, pk: int) -> Response:
        sheets = visible_sheets(self.seat).select_related("picture", "uploaded_by")
        return self.answer_page(sheets.prefetch_related("picture__renditions"))

    def post(self, request: Request, pk: int) -> Response:
        image = self.read_body()["image"]
        return self.answer(receive_sheet(seat=self.seat, file=image.file, file_name=image.name or ""))


class OneSheet(Endpoint):
    shape = SheetSerializer
    reach = access_sheet

    def get(self, request: Request, pk: int) -> Response:
        return self.answer(self.row)


class SheetCuts(Endpoint):
    """Each part becomes the thumbnail revision of its page."""

    shape = SheetSerializer
    reach = access_sheet
    needs = {"PUT": may_draw}
    bodies = {"PUT": Cuts}

    def put(self, request: Request, pk: int) -> Response:
        return self.answer(cut_sheet(seat=self.seat, sheet=self.row, cuts=self.read_body()["cuts"]))
