"""Collections come in pages: `results`, `next`, `previous`; `?limit=` says how many at most."""

from typing import Any
from urllib.parse import parse_qs, urlsplit

from django.core.exceptions import ValidationError as WrongValue
from django.db.models import QuerySet
from rest_framework.exceptions import NotFound, ValidationError
from rest_framework.pagination import Cursor, CursorPagination
from rest_framework.request import Request


class Paging(CursorPagination):
    """By cursor, so that a row which arrives meanwhile neither repeats nor skips another. Links are paths on this server."""

    ordering = "pk"
    page_size = 100
    max_page_size = 500
    page_size_query_param = "limit"
    parameters = ("limit", "cursor")

    def get_ordering(self, request: Any, queryset: Any, view: Any) -> tuple[str, ...]:
        return getattr(view, "ordering", ("pk",))

    def get_page_size(self, request: Request) -> int:
        return limit_named(request, self.page_size, self.max_page_size)

    def paginate_queryset(self, queryset: QuerySet, request: Request, view: Any = None) -> list | None:
        try:
            return super().paginate_queryset(queryset, request, view)
        except (ValueError, WrongValue) as error:
            if self.cursor_query_param in request.query_params:  # the place that it names is none in this order
                raise no_cursor() from error
            raise

    def decode_cursor(self, request: Request) -> Cursor | None:
        """What is decoded is written again and held against what came: base64 reads much as nothing, and would begin anew."""
        try:
            cursor = super().decode_cursor(request)
        except NotFound as error:
            raise no_cursor() from error
        if cursor is not None:
            again = parse_qs(urlsplit(self.encode_cursor(cursor)).query).get(self.cursor_query_param)
            if again != [request.query_params[self.cursor_query_param]]:
                raise no_cursor()
        return cursor

    def get_next_link(self) -> str | None:
        return _path_of(super().get_next_link())

    def get_previous_link(self) -> str | None:
        return _path_of(super().get_previous_link())

    def get_paginated_response_schema(self, schema: dict) -> dict:
        link = {"type": ["string", "null"], "format": "uri-reference"}
        properties = {"results": schema, "next": link, "previous": link}
        return {"type": "object", "required": list(properties), "properties": properties}

    def get_schema_operation_parameters(self, view: Any) -> list[dict]:
        limit = {"type": "integer", "minimum": 1, "maximum": self.max_page_size, "default": self.page_size}
        told = {
            "limit": (limit, "How many rows at most."),
            "cursor": ({"type": "string"}, "Stands in the addresses `next` and `previous`; it is not made up."),
        }
        return [
            {"name": name, "in": "query", "required": False, "description": told[name][1], "schema": told[name][0]}
            for name in self.parameters
        ]


def limit_named(request: Request, usual: int, most: int) -> int:
    """`?limit=`. Raises ValidationError where it is no whole number from 1 to `most`."""
    named = request.query_params.get("limit")
    if named is None:
        return usual
    if not (named.isascii() and named.isdigit() and len(named) < 10 and 1 <= int(named) <= most):
        raise ValidationError({"limit": [f"This is a whole number from 1 to {most}."]})
    return int(named)


def no_cursor() -> ValidationError:
    return ValidationError({"cursor": ["This is no cursor of this list. Follow the addresses `next` and `previous` as they are."]})


def _path_of(link: str | None) -> str | None:
    return urlsplit(link)._replace(scheme="", netloc="").geturl() if link else None
