"""What may stand behind the `?` of an address: a slip in a name would else be lost in silence, and all rows be answered."""

from collections.abc import Collection
from functools import cache
from typing import Any

from drf_spectacular.utils import OpenApiParameter
from rest_framework.exceptions import ValidationError
from rest_framework.request import Request


def refuse_unknown_parameters(request: Request, endpoint: type) -> None:
    """Raises ValidationError, by name, with those there are; also for one that comes twice, of which but one would be read."""
    known = known_parameters(endpoint, request.method or "GET")
    there_are = those_there_are(known)
    wrong = {name: [f"There is no such parameter here. {there_are}"] for name in sorted(set(request.query_params) - set(known))}
    wrong |= {name: ["Say it once."] for name in known if len(request.query_params.getlist(name)) > 1}
    if wrong:
        raise ValidationError(wrong)


def those_there_are(known: Collection[str]) -> str:
    """Said behind a name that is not one of them."""
    return f"Those there are: {', '.join(known)}." if known else "This request takes none."


@cache
def known_parameters(endpoint: Any, method: str) -> tuple[str, ...]:
    """Of what an Endpoint states for its description: its filters, its own parameters, and those of a list in pages."""
    method = "GET" if method == "HEAD" else method
    own = [one.name for one in getattr(endpoint, "parameters", {}).get(method, ()) if one.location == OpenApiParameter.QUERY]
    if method != "GET" or not endpoint.lists:
        return tuple(own)
    filters = endpoint.filterset_class.base_filters if hasattr(endpoint, "filterset_class") else ()
    paging = endpoint.pagination_class.parameters if endpoint.pagination_class else ()
    return (*filters, *own, *paging)
