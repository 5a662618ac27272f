from rest_framework import serializers

from api.body import json_field
from api.principles import principle_of
from board.check_registry import label_of_finding
from board.models import Finding

GEOMETRY = {
    "type": "object",
    "description": "What to draw, in page coordinates: a region, and marks with their kind, points and label.",
    "additionalProperties": True,
}


class FindingSerializer(serializers.ModelSerializer):
    label = serializers.SerializerMethodField()  # type: ignore[assignment]  # the field bears a name that the base class has too
    geometry = json_field(GEOMETRY)
    trend = serializers.ChoiceField(["new", "better", "same", "worse"])

    principle = serializers.SerializerMethodField(help_text="A small drawing of the principle behind it.")

    class Meta:
        model = Finding
        fields = ["kind", "label", "measured", "expected", "tolerance", "unit", "confidence", "text", "geometry", "trend",
                  "revision", "principle"]

    def get_principle(self, finding: Finding) -> str | None:
        return principle_of(finding.kind)

    def get_label(self, finding: Finding) -> str:
        return label_of_finding(finding.kind)
