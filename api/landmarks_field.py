"""Landmarks of a figure, as requests carry them."""

from typing import Any

from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from api.body import POINT
from board.figure_landmarks import LANDMARKS
from board.page_space import read_region

LANDMARKS_SHAPE = {
    "type": "object", "additionalProperties": False, "properties": dict.fromkeys(LANDMARKS, POINT),
    "description": "Where each landmark is, in page coordinates. Left and right are the figure's own.",
}


@extend_schema_field(LANDMARKS_SHAPE)
class LandmarksField(serializers.JSONField):
    def to_internal_value(self, data: Any) -> dict[str, list[float]]:
        value = super().to_internal_value(data)
        if not isinstance(value, dict):
            raise serializers.ValidationError("Landmarks are an object of names and points.")
        if unknown := sorted(set(value) - set(LANDMARKS)):
            raise serializers.ValidationError(f"There is no landmark “{unknown[0][:40]}”.")
        try:
            return {name: read_region({"point": point})["point"] for name, point in value.items()}
        except ValueError as error:
            raise serializers.ValidationError(str(error)) from error
