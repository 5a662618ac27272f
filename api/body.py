"""What requests carry. A field that is not known is refused: a slip in a name would else be lost in silence."""

from collections.abc import Mapping
from typing import Any

from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from api.choices import tell_choices
from api.known_parameters import those_there_are
from board.drawn_lines import LINE_KINDS, MOST_LINES, MOST_POINTS, read_lines
from board.page_space import read_region

POINT = {"type": "array", "items": {"type": "number"}, "minItems": 2, "maxItems": 2}
POLYGON = {"type": "array", "items": POINT, "minItems": 3, "maxItems": 500}
REGION = {
    "description": "Page coordinates, 0 to 1 across the picture and down.",
    "oneOf": [
        {"type": "object", "properties": {"polygon": POLYGON}, "required": ["polygon"], "additionalProperties": False},
        {"type": "object", "properties": {"point": POINT}, "required": ["point"], "additionalProperties": False},
    ],
}

LINES = {
    "type": "array",
    "maxItems": MOST_LINES,
    "description": "Drawn over the page, in page coordinates: an arrow points at the last of its two points; a stroke may carry "
    "one pressure for each point.",
    "items": {
        "type": "object",
        "properties": {
            "kind": {"type": "string", "enum": list(LINE_KINDS)},
            "points": {"type": "array", "items": POINT, "minItems": 2, "maxItems": MOST_POINTS},
            "pressures": {"type": "array", "items": {"type": "number", "minimum": 0, "maximum": 1}, "maxItems": MOST_POINTS},
        },
        "required": ["kind", "points"],
        "additionalProperties": False,
    },
}


def json_field(schema: dict, **options: Any) -> serializers.JSONField:
    """A field of JSON with a shape of its own. (Described in place, all fields of JSON would be described alike.)"""
    shaped = type("ShapedField", (serializers.JSONField,), {})
    return extend_schema_field(schema)(shaped)(**options)


class Body(serializers.Serializer):
    is_strict = True

    # PATCH takes any part of a body. One field alone has no parts, and what lies in a field is whole.
    @property
    def partial(self) -> bool:
        return self._may_be_partial and len(self.fields) > 1

    @partial.setter
    def partial(self, may_be: bool) -> None:
        self._may_be_partial = may_be

    def get_fields(self) -> dict[str, serializers.Field]:
        fields = super().get_fields()
        for field in fields.values():
            tell_choices(field)
        return fields

    def to_internal_value(self, data: Any) -> dict:
        if self.parent is not None and getattr(self.root, "partial", False):
            return type(self)(context=self.context).run_validation(data)
        if isinstance(data, Mapping) and (unknown := set(data) - set(self.fields)):
            known = [name for name, field in self.fields.items() if not field.read_only]
            words = f"There is no such field here. {those_there_are(known)}"
            raise serializers.ValidationError({name: [words] for name in sorted(unknown)})
        return super().to_internal_value(data)


@extend_schema_field(REGION)
class RegionField(serializers.JSONField):
    def to_internal_value(self, data: Any) -> dict:
        try:
            return read_region(super().to_internal_value(data))
        except ValueError as error:
            raise serializers.ValidationError(str(error)) from error


@extend_schema_field(LINES)
class LinesField(serializers.JSONField):
    def to_internal_value(self, data: Any) -> list:
        try:
            return read_lines(super().to_internal_value(data))
        except ValueError as error:
            raise serializers.ValidationError(str(error)) from error


@extend_schema_field(POLYGON)
class PolygonField(serializers.JSONField):
    def to_internal_value(self, data: Any) -> list:
        try:
            return read_region({"polygon": super().to_internal_value(data)})["polygon"]
        except ValueError as error:
            raise serializers.ValidationError(str(error)) from error
