from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiParameter
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.body import json_field
from api.endpoint import Endpoint
from board.access import access_revision, visible_revisions
from board.errors import NotValid
from board.models.comparison import map_begins_at, maps_between

NUMBER, SIZE = {"type": "number"}, {"type": "array", "items": {"type": "integer"}, "minItems": 2, "maxItems": 2}
TRIPLE = {"type": "array", "items": NUMBER, "minItems": 3, "maxItems": 3}
STEP = {
    "type": "object",
    "properties": {
        "before": {"type": "integer"},
        "after": {"type": "integer"},
        "size_before": {**SIZE, "description": "Width and height in px."},
        "size_after": SIZE,
        "H_before_to_after": {
            "type": "array", "items": TRIPLE, "minItems": 3, "maxItems": 3,
            "description": "Plane transform between continuous pixels of the two pictures.",
        },
        "local_shifts": {
            "type": "array", "items": {"type": "array", "items": {"type": "array", "items": NUMBER}},
            "description": "Nodes (rows, columns, 2) of a uniform cubic B-spline over the newer picture: shifts in its px, added "
            "after the plane transform. The first node lies one spacing outside.",
        },
        "quality": {"type": "number", "minimum": 0, "maximum": 1, "description": "0 where nothing was found in common."},
    },
    "required": ["before", "after", "size_before", "size_after", "H_before_to_after", "local_shifts", "quality"],
}


class RegistrationSerializer(serializers.Serializer):
    before = serializers.IntegerField(allow_null=True)
    after = serializers.IntegerField()
    steps = json_field({
        "type": ["array", "null"], "items": STEP,
        "description": "The maps to follow one after the other; null where none lead from one to the other, or not yet.",
    })


class Registration(Endpoint):
    """Where each point of an earlier revision lies on this one, as far as it was worked out."""

    shape = RegistrationSerializer
    reach = access_revision
    parameters = {
        "GET": (OpenApiParameter("before", OpenApiTypes.INT, description="The earlier revision; else the one right before it."),)
    }

    def get(self, request: Request, pk: int) -> Response:
        named = request.query_params.get("before")
        before = self._earlier(named) if named else map_begins_at(self.row.pk)
        steps = maps_between(before, self.row.pk) if before else None
        return Response({"before": before, "after": self.row.pk, "steps": steps})

    def _earlier(self, named: str) -> int:
        earlier = visible_revisions(self.seat).filter(page=self.row.page_id, number__lt=self.row.number)
        if not named.isdecimal() or not earlier.filter(pk=named).exists():
            raise NotValid("`before` names an earlier revision of the same page.")
        return int(named)
