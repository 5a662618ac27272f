"""A point in page coordinates, as requests carry it."""

from typing import Any

from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from api.body import POINT
from board.page_space import read_region


@extend_schema_field(POINT)
class PlaceField(serializers.JSONField):
    """On the picture."""

    def to_internal_value(self, data: Any) -> list[float]:
        try:
            return read_region({"point": super().to_internal_value(data)})["point"]
        except ValueError as error:
            raise serializers.ValidationError(str(error)) from error
