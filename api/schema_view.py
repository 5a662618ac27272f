from functools import cache
from types import SimpleNamespace
from typing import Any

from drf_spectacular.generators import SchemaGenerator
from drf_spectacular.views import SpectacularAPIView
from rest_framework.negotiation import DefaultContentNegotiation
from rest_framework.permissions import AllowAny


class DescribedOnce(SchemaGenerator):
    """The API is the same for everyone for as long as the program runs: it is gone through once."""

    def get_schema(self, request: Any = None, public: bool = True) -> dict[str, Any]:
        return _described()


@cache
def _described() -> dict[str, Any]:
    return SchemaGenerator().get_schema(public=True)


class FormatNamed(DefaultContentNegotiation):
    """`?format=json` too: who opens this in a browser says nothing of media types."""

    settings = SimpleNamespace(URL_FORMAT_OVERRIDE="format")  # type: ignore[assignment]  # all that is read of it


class Schema(SpectacularAPIView):
    """This description, in OpenAPI 3.1."""

    schema = None
    generator_class = DescribedOnce
    content_negotiation_class = FormatNamed
    authentication_classes = []
    permission_classes = [AllowAny]
