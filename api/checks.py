from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.endpoint import Endpoint
from board.check_registry import CHECKS
from board.stages.order import STAGES


class CheckSerializer(serializers.Serializer):
    id = serializers.CharField()
    label = serializers.CharField()  # type: ignore[assignment]  # the field bears a name that the base class has too
    stages = serializers.ListField(child=serializers.ChoiceField(STAGES))
    findings = serializers.DictField(child=serializers.CharField())
    tolerances = serializers.DictField(child=serializers.FloatField())


class Checks(Endpoint):
    """The checks there are, what they find, and the tolerances that a board may set otherwise. One list, never in pages."""

    shape = CheckSerializer
    pagination_class = None
    lists = True

    def get(self, request: Request) -> Response:
        return Response(self.show(list(CHECKS.values())))
