from collections import defaultdict
from collections.abc import Sequence

from django_filters import rest_framework as filters
from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.body import Body, json_field
from api.endpoint import Endpoint
from api.needs import may_add_references
from api.people import PersonSerializer
from api.revision_brief import PictureFields
from api.uploads import UPLOAD_PARSERS, PictureBody
from board.access import access_board, access_reference, may_change_reference, visible_pages
from board.actions.references import add_reference, change_reference, remove_reference
from board.models import Panel, Reference
from board.models.reference import REFERENCE_KINDS

PERSPECTIVE = {
    "type": "object", "additionalProperties": True,
    "description": "Of a still, in page coordinates: eye level, vanishing points, focal length, pitch and roll, as its exact "
                   "camera has them (`is_exact`), else as its lines show them; or the `reason` why nothing is known.",
}
LINES = {
    "type": "object", "additionalProperties": True,
    "description": "Of a still, what its lines show, whatever camera somebody gave for it; or the `reason` why nothing.",
}
CAMERA = {"type": ["object", "null"], "additionalProperties": True, "description": "The camera that somebody gave for it."}


class ReferenceSerializer(PictureFields):
    route = "reference"

    perspective = serializers.SerializerMethodField()
    lines = json_field(LINES, source="numbers", read_only=True)
    camera = json_field(CAMERA, read_only=True)
    uploaded_by = PersonSerializer(allow_null=True)

    class Meta:
        model = Reference
        fields = ["id", "board", "kind", "title", *PictureFields.picture_fields, "perspective", "lines", "camera", "uploaded_by",
                  "uploaded_at"]

    def get_perspective(self, reference: Reference) -> json_field(PERSPECTIVE):  # type: ignore[valid-type]
        return reference.perspective_numbers()


class TiedPanelSerializer(serializers.Serializer):
    panel = serializers.IntegerField(source="pk")
    page = serializers.IntegerField(source="page_id")
    page_number = serializers.IntegerField(source="page.number")
    page_numbers = serializers.ListField(child=serializers.IntegerField(), source="page.numbers")
    order = serializers.IntegerField()


class ReferenceOnBoardSerializer(ReferenceSerializer):
    panels = serializers.SerializerMethodField(help_text="The panels that are drawn from it, as their still.")

    class Meta(ReferenceSerializer.Meta):
        fields = [*ReferenceSerializer.Meta.fields, "panels"]

    @extend_schema_field(TiedPanelSerializer(many=True))
    def get_panels(self, reference: Reference) -> list[dict]:
        return list(TiedPanelSerializer(self.context["panels"].get(reference.pk, []), many=True).data)


class ReferenceFields(Body):
    title = serializers.CharField(required=False, max_length=200)
    kind = serializers.ChoiceField(REFERENCE_KINDS, required=False, help_text="A still that panels are drawn from stays one.")


class ReferenceEndpoint(Endpoint):
    shape = ReferenceOnBoardSerializer

    def show(self, references: Sequence[Reference]) -> list[dict]:
        panels: dict[int, list[Panel]] = defaultdict(list)
        tied = Panel.objects.filter(still__in=references, is_gone=False, page__in=visible_pages(self.seat))
        for panel in tied.select_related("page").order_by("page__number", "order"):
            panels[panel.still_id or 0].append(panel)
        return list(ReferenceOnBoardSerializer(references, many=True, context={"panels": panels}).data)


class NewReference(PictureBody):
    title = serializers.CharField(max_length=200)
    kind = serializers.ChoiceField(REFERENCE_KINDS, required=False)


class ReferenceFilters(filters.FilterSet):
    kind = filters.ChoiceFilter(choices=[(kind, kind) for kind in REFERENCE_KINDS])


class BoardReferences(ReferenceEndpoint):
    """Pictures that panels are drawn from: stills of a modelled set, old backgrounds, poses, props."""

    lists = True
    queryset = Reference.objects.none()
    filterset_class = ReferenceFilters
    parser_classes = UPLOAD_PARSERS
    reach = access_board
    needs = {"POST": may_add_references}
    bodies = {"POST": NewReference}
    makes = "reference"

    def get(self, request: Request, pk: int) -> Response:
        references = Reference.objects.filter(board=self.row).select_related("picture", "uploaded_by")
        return self.answer_page(references.prefetch_related("picture__renditions"))

    def post(self, request: Request, pk: int) -> Response:
        body = self.read_body()
        return self.answer(add_reference(seat=self.seat, file=body.pop("image").file, **body))


class OneReference(ReferenceEndpoint):
    """Panels tied to a removed reference are untied."""

    reach = access_reference
    needs = {"PATCH": may_change_reference, "DELETE": may_change_reference}
    bodies = {"PATCH": ReferenceFields}

    def get(self, request: Request, pk: int) -> Response:
        return self.answer(self.row)

    def patch(self, request: Request, pk: int) -> Response:
        return self.answer(change_reference(seat=self.seat, reference=self.row, **self.read_body()))

    def delete(self, request: Request, pk: int) -> Response:
        remove_reference(seat=self.seat, reference=self.row)
        return Response(status=204)
