"""A point in page coordinates, as requests carry it."""

from typing import Any

from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from api.body import POINT
from api.finite_number import FiniteNumber
from board.page_space import read_region


@extend_schema_field(POINT)
class PlaceField(serializers.JSONField):
    """On the picture."""

    def to_internal_value(self, data: Any) -> list[float]:
        try:
            return read_region({"point": super().to_internal_value(data)})["point"]
        except ValueError as error:
            raise serializers.ValidationError(str(error)) from error


class FootField(serializers.ListField):
    """Where something stands: on the picture, or beyond its edge, which cuts figures off as a frame does."""

    def __init__(self, **options: Any) -> None:
        super().__init__(child=FiniteNumber(min_value=-1, max_value=2), **{"min_length": 2, "max_length": 2, **options})
