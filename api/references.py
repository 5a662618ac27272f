
from django_filters import rest_framework as filters
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.body import json_field
from api.endpoint import Endpoint
from api.needs import may_add_references
from api.people import PersonSerializer
from api.revision_brief import PictureFields
from api.uploads import UPLOAD_PARSERS, PictureBody
from board.access import access_board, access_reference, may_remove
from board.actions.references import add_reference, remove_reference
from board.models import Reference
from board.models.reference import REFERENCE_KINDS

PERSPECTIVE = {
    "type": "object", "additionalProperties": True,
    "description": "Of a still, in page coordinates: eye level, vanishing points, focal length, pitch and roll, as its exact "
                   "camera has them (`is_exact`), else as its lines show them; or the `reason` why nothing is known.",
}
CAMERA = {"type": ["object", "null"], "additionalProperties": True, "description": "The camera that somebody gave for it."}


class ReferenceSerializer(PictureFields):
    route = "reference"

    perspective = serializers.SerializerMethodField()
    camera = json_field(CAMERA, read_only=True)
    uploaded_by = PersonSerializer(allow_null=True)

    class Meta:
        model = Reference
        fields = ["id", "board", "kind", "title", *PictureFields.picture_fields, "perspective", "camera", "uploaded_by",
                  "uploaded_at"]

    def get_perspective(self, reference: Reference) -> json_field(PERSPECTIVE):  # type: ignore[valid-type]
        return reference.perspective_numbers()


class NewReference(PictureBody):
    title = serializers.CharField(max_length=200)
    kind = serializers.ChoiceField(REFERENCE_KINDS, required=False)


class ReferenceFilters(filters.FilterSet):
    kind = filters.ChoiceFilter(choices=[(kind, kind) for kind in REFERENCE_KINDS])


class BoardReferences(Endpoint):
    """Pictures that panels are drawn from: stills of a modelled set, old backgrounds, poses, props."""

    shape = ReferenceSerializer
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


class OneReference(Endpoint):
    """Panels tied to a removed reference are untied."""

    shape = ReferenceSerializer
    reach = access_reference
    needs = {"DELETE": may_remove}

    def get(self, request: Request, pk: int) -> Response:
        return self.answer(self.row)

    def delete(self, request: Request, pk: int) -> Response:
        remove_reference(seat=self.seat, reference=self.row)
        return Response(status=204)
