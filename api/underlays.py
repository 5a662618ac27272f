from typing import Any

from django.http.response import HttpResponseBase
from django.urls import reverse
from django.utils.http import content_disposition_header
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.body import Body, json_field
from api.endpoint import Endpoint
from api.finite_number import FiniteNumber
from api.needs import may_write
from api.people import PersonSerializer
from api.picture_answers import AnyAccept, picture_answer
from api.place_on_page import FootField, PlaceField
from board.access import access_revision, access_underlay
from board.actions.underlays import INCLUDES, request_underlay
from board.errors import NotFound, NotValid
from board.models import Panel, Underlay
from board.models.underlay import UNDERLAY_STATES

MEDIA_TYPES = {"svg": "image/svg+xml", "png": "image/png", "ora": "image/openraster"}
MOST_GUIDES = 40
MOST_M = 1000.0
FILES = {"type": "object", "description": "Where each file is, once it is ready.", "additionalProperties": {"type": "string"}}
NOT_DRAWN = {"type": "object", "description": "Why a panel has no grid, by its id, or why a guide is not there: `post 1`, `box 2`.",
             "additionalProperties": {"type": "string"}}


class Metres(FiniteNumber):
    def __init__(self, **options: Any) -> None:
        super().__init__(**{"min_value": 0.01, "max_value": MOST_M, **options})


class KnownHeight(Body):
    foot = PlaceField()
    top = PlaceField()
    height_m = Metres()


class PostGuide(Body):
    foot = FootField(help_text="Where a panel is named, it may lie beyond its frame, which then cuts off what is drawn.")
    height_m = Metres()
    heads = FiniteNumber(required=False, min_value=1, max_value=20)
    name = serializers.CharField(required=False, max_length=60)


class BoxGuide(Body):
    foot = FootField(help_text="The middle of its front edge, on the floor.")
    width_m = Metres()
    height_m = Metres()
    depth_m = Metres(required=False, min_value=0.0)
    turn_deg = FiniteNumber(required=False, min_value=-180, max_value=180, help_text="Against the set; + to the right.")


def some_of(guide: Body) -> serializers.ListSerializer:
    return serializers.ListSerializer(child=guide, required=False, max_length=MOST_GUIDES)


class UnderlayWish(Body):
    panel = serializers.IntegerField(required=False, min_value=1, allow_null=True, help_text="Without it, all panels.")
    includes = serializers.ListField(
        child=serializers.ChoiceField(INCLUDES), required=False, min_length=1, max_length=len(INCLUDES)
    )
    step = Metres(required=False, help_text="Side of the squares: metres where a height is known, else eye heights.")
    eye_height_m = Metres(required=False)
    known_height = KnownHeight(required=False)
    posts = some_of(PostGuide())
    boxes = some_of(BoxGuide())


class UnderlaySerializer(serializers.ModelSerializer):
    state = serializers.ChoiceField(UNDERLAY_STATES)
    options = json_field({"type": "object", "additionalProperties": True})
    not_drawn = json_field(NOT_DRAWN)
    files = serializers.SerializerMethodField()
    requested_by = PersonSerializer(allow_null=True)

    class Meta:
        model = Underlay
        fields = ["id", "board", "revision", "panel", "options", "state", "reason", "not_drawn", "files", "requested_by",
                  "created_at"]

    def get_files(self, underlay: Underlay) -> json_field(FILES):  # type: ignore[valid-type]
        return {kind: reverse("api:underlay-files", args=[underlay.pk, kind]) for kind in MEDIA_TYPES if kind in underlay.files}


class RevisionUnderlays(Endpoint):
    """A picture to draw on: perspective grid, figure posts, boxes and notes over this revision, as files."""

    shape = UnderlaySerializer
    reach = access_revision
    needs = {"POST": may_write}
    bodies = {"POST": UnderlayWish}
    makes = "underlay"

    def post(self, request: Request, pk: int) -> Response:
        options = dict(self.read_body())
        panel_id = options.pop("panel", None)
        panel = Panel.objects.filter(page=self.row.page, pk=panel_id).first() if panel_id else None
        if panel_id and panel is None:
            raise NotValid("There is no such panel on this page.")
        return self.answer(request_underlay(seat=self.seat, revision=self.row, panel=panel, options=options))


class OneUnderlay(Endpoint):
    shape = UnderlaySerializer
    reach = access_underlay

    def get(self, request: Request, pk: int) -> Response:
        return self.answer(self.row)


class UnderlayFiles(Endpoint):
    """SVG, PNG with nothing behind it, or OpenRaster with the drawing and a layer each; for saving."""

    content_negotiation_class = AnyAccept
    media_types = tuple(MEDIA_TYPES.values())
    reach = access_underlay

    def get(self, request: Request, pk: int, kind: str) -> HttpResponseBase:
        name = self.row.files.get(kind)
        if name is None or kind not in MEDIA_TYPES:
            raise NotFound("There is no such file, or not yet.")
        part = f"-panel-{self.row.panel.order}" if self.row.panel else ""
        saved_as = f"page-{self.row.revision.page.number}{part}-underlay.{kind}"
        disposition = content_disposition_header(True, saved_as) or "attachment"
        headers = {"Cache-Control": "private, no-cache", "Content-Disposition": disposition}
        return picture_answer(request, name, MEDIA_TYPES[kind], headers)
