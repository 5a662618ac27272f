from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.body import json_field
from api.endpoint import Endpoint
from board.proportion_presets import PRESETS

SHARES = {"type": "object", "additionalProperties": {"type": "number"}, "description": "Shares of the stature."}


class PresetSerializer(serializers.Serializer):
    id = serializers.CharField()
    label = serializers.CharField()  # type: ignore[assignment]  # the field bears a name that the base class has too
    source = serializers.CharField()  # type: ignore[assignment]
    heads = serializers.FloatField(allow_null=True)
    segments = json_field(SHARES)


class Presets(Endpoint):
    """Published canons and surveys, each with its source: starting points for a character, never what it is measured against."""

    shape = PresetSerializer
    pagination_class = None
    lists = True

    def get(self, request: Request) -> Response:
        return Response(self.show([{**vars(preset), "segments": dict(preset.segments)} for preset in PRESETS.values()]))
