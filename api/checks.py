from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.endpoint import Endpoint
from board.check_registry import CHECKS, CheckEntry
from board.how_measured import tolerances_told
from board.stages.order import STAGES


class ToleranceSerializer(serializers.Serializer):
    """What people read of one: "An edge may miss its point by" 4 "°"; the number as it is kept, `times` so many."""

    name = serializers.CharField()
    label = serializers.CharField()  # type: ignore[assignment]
    unit = serializers.CharField()
    times = serializers.FloatField()
    means = serializers.CharField()


class CheckSerializer(serializers.Serializer):
    id = serializers.CharField()
    label = serializers.CharField()  # type: ignore[assignment]  # the field bears a name that the base class has too
    stages = serializers.ListField(child=serializers.ChoiceField(STAGES))
    findings = serializers.DictField(child=serializers.CharField())
    tolerances = serializers.DictField(child=serializers.FloatField())
    tolerances_told = serializers.SerializerMethodField()

    def get_tolerances_told(self, entry: CheckEntry) -> ToleranceSerializer(many=True):  # type: ignore[valid-type]
        told = tolerances_told(entry.findings)
        return [
            {"name": name, "label": told[name].label, "unit": told[name].unit.strip(), "times": told[name].times,
             "means": told[name].means}
            for name in entry.tolerances
        ]


class Checks(Endpoint):
    """The checks there are, what they find, and the tolerances that a board may set otherwise. One list, never in pages."""

    shape = CheckSerializer
    pagination_class = None
    lists = True

    def get(self, request: Request) -> Response:
        return Response(self.show(list(CHECKS.values())))
