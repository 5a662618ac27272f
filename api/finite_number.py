from math import isfinite
from typing import Any

from rest_framework import serializers


class FiniteNumber(serializers.FloatField):
    """A number that can be reckoned with: "nan" passes every comparison, and so every limit."""

    def to_internal_value(self, data: Any) -> float:
        value = super().to_internal_value(data)
        if not isfinite(value):
            raise serializers.ValidationError("A finite number is needed.")
        return value
