"""A screen's first answers, written into its page by the endpoints that its script would ask: one request, and no second truth."""

from collections.abc import AsyncIterator, Sequence
from copy import copy
from functools import partial
from typing import cast
from urllib.parse import urlsplit

from asgiref.sync import sync_to_async
from django.core.handlers.exception import convert_exception_to_response
from django.http import HttpRequest, HttpResponse, QueryDict, StreamingHttpResponse
from django.http.response import HttpResponseBase
from django.template.response import SimpleTemplateResponse
from django.urls import resolve
from django.utils.html import format_html
from django.utils.safestring import mark_safe

from board.read_once import Kept, reading_once

# Nothing in an answer may end the block that it stands in, or begin another.
HARMLESS = {ord("<"): "\\u003C", ord(">"): "\\u003E", ord("&"): "\\u0026"}
# Where they go in the page.
PLACE = b"<!-- first answers -->"


def with_first_answers(request: HttpRequest, screen: HttpResponse, paths: Sequence[str]) -> HttpResponseBase:
    """Under ASGI the screen is sent at once and the answers as they come: its picture and scripts are on their way meanwhile."""
    begin, _, end = screen.content.rpartition(PLACE)
    kept: Kept = {}
    if not hasattr(request, "scope"):
        screen.content = b"".join([begin, *(block(request, path, kept) for path in paths), end])
        return screen

    async def parts() -> AsyncIterator[bytes]:
        yield begin
        for path in paths:
            yield await sync_to_async(block)(request, path, kept)
        yield end

    return StreamingHttpResponse(parts(), headers=dict(screen.headers))


def block(request: HttpRequest, path: str, kept: Kept) -> bytes:
    """Empty where the answer is none to show: then the script asks for itself, and tells what is the matter."""
    with reading_once(kept):
        answer = answer_to(request, path)
    if answer.status_code != 200:
        return b""
    words = answer.content.decode().translate(HARMLESS)
    # Safe: JSON in which no markup is left.
    return format_html('<script type="application/json" data-answer="{}">{}</script>\n', path, mark_safe(words)).encode()  # noqa: S308


def answer_to(request: HttpRequest, path: str) -> HttpResponse:
    """What this person would be answered who asked for `path` of this server."""
    asked, address = copy(request), urlsplit(path)
    asked.path = asked.path_info = address.path
    asked.GET = QueryDict(address.query)
    asked.META = {**request.META, "PATH_INFO": address.path, "QUERY_STRING": address.query, "HTTP_ACCEPT": "application/json"}
    view = resolve(address.path)
    # As the handler would: what fails is logged, and answered with a 500 that is no block.
    answer = cast("HttpResponse", convert_exception_to_response(partial(view.func, **view.kwargs))(asked))
    return answer.render() if isinstance(answer, SimpleTemplateResponse) else answer
