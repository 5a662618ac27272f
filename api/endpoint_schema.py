"""Describes an endpoint in OpenAPI from what its class states."""

import re
from typing import Any

from drf_spectacular.openapi import AutoSchema
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiParameter, OpenApiResponse

from api.problems import MEDIA_TYPE, ProblemSerializer

IDEMPOTENCY_KEY = OpenApiParameter(
    "Idempotency-Key", OpenApiTypes.STR, OpenApiParameter.HEADER,
    description="Chosen by you. The same request sent again under the same key is not done again.",
)


class EndpointSchema(AutoSchema):
    view: Any  # an Endpoint, which imports this module

    def get_operation_id(self) -> str:
        return f"{self.method.lower()}{re.sub(r'(?=[A-Z])', '_', type(self.view).__name__).lower()}"

    def get_override_parameters(self) -> list[OpenApiParameter]:
        parameters = list(getattr(self.view, "parameters", {}).get(self.method, ()))
        if self.method in self.view.versioned:
            parameters.append(self._if_match())
        if self.method == "POST":
            parameters.append(IDEMPOTENCY_KEY)
        return parameters

    def _if_match(self) -> OpenApiParameter:
        noun = self.view.guards or self.path.removeprefix("/api/v1/").split("/")[0]
        told = f"The ETag that `GET /api/v1/{noun}/{{id}}` answered with: of the version that you changed. `*` stands for any."
        return OpenApiParameter("If-Match", OpenApiTypes.STR, OpenApiParameter.HEADER, required=True, description=told)

    def _is_list_view(self, serializer: Any = None) -> bool:
        """An answer of another media type is a list in its own form."""
        return self.view.lists and self.method == "GET" and not isinstance(serializer, OpenApiTypes)

    def get_filter_backends(self) -> list:
        return super().get_filter_backends() if hasattr(self.view, "filterset_class") else []

    def get_request_serializer(self) -> Any:
        return self.view.bodies.get(self.method)

    def get_response_serializers(self) -> Any:
        status = self.view.statuses.get(self.method, 200)
        answers = self._media_answers(status) or {(status, "application/json"): self._shape(status)}
        return {**answers, ("default", MEDIA_TYPE): OpenApiResponse(ProblemSerializer, description="What went wrong.")}

    def _media_answers(self, status: int) -> dict:
        """An endpoint that answers with something else than JSON names the media types."""
        named = getattr(self.view, "media_types", ())
        return {(status, name): OpenApiTypes.OBJECT if name.endswith("json") else OpenApiTypes.BINARY for name in named}

    def _shape(self, status: int) -> Any:
        if status == 204 or self.view.shape is None:
            return None
        return self.view.shape(many=True) if self._is_list_view() else self.view.shape

    def _map_basic_serializer(self, serializer: Any, direction: str) -> dict:
        schema = super()._map_basic_serializer(serializer, direction)
        return {**schema, "additionalProperties": False} if getattr(serializer, "is_strict", False) else schema
