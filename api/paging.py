"""Collections come in pages: `results`, `next`, `previous`; `?limit=` says how many at most."""

from typing import Any
from urllib.parse import urlsplit

from rest_framework.pagination import CursorPagination


class Paging(CursorPagination):
    """By cursor, so that a row which arrives meanwhile neither repeats nor skips another. Links are paths on this server."""

    ordering = "pk"
    page_size = 100
    max_page_size = 500
    page_size_query_param = "limit"

    def get_ordering(self, request: Any, queryset: Any, view: Any) -> tuple[str, ...]:
        return getattr(view, "ordering", ("pk",))

    def get_next_link(self) -> str | None:
        return _path_of(super().get_next_link())

    def get_previous_link(self) -> str | None:
        return _path_of(super().get_previous_link())

    def get_paginated_response_schema(self, schema: dict) -> dict:
        link = {"type": ["string", "null"], "format": "uri-reference"}
        properties = {"results": schema, "next": link, "previous": link}
        return {"type": "object", "required": list(properties), "properties": properties}


def _path_of(link: str | None) -> str | None:
    return urlsplit(link)._replace(scheme="", netloc="").geturl() if link else None
