"""Pictures, sent after the permission check: from an async iterator under ASGI, where a plain one would be read whole first."""

import asyncio
from collections.abc import AsyncIterator, Iterator, Sequence

from django.http import HttpResponseNotModified, StreamingHttpResponse
from django.http.response import HttpResponseBase
from django.utils.http import content_disposition_header
from rest_framework.negotiation import BaseContentNegotiation
from rest_framework.parsers import BaseParser
from rest_framework.renderers import BaseRenderer
from rest_framework.request import Request

from board.errors import NotFound
from board.models import Picture, Rendition
from board.picture_files import CHUNK, ENDINGS, file_is_kept, open_file, size_of

SHOWN_INLINE = {"image/png", "image/jpeg", "image/webp"}  # what browsers draw; the rest is for saving only
WEBP = "image/webp"
ONLY_A_PICTURE = "default-src 'none'; sandbox"


class AnyAccept(BaseContentNegotiation):
    """A picture is what it is, whatever the request would like best."""

    def select_parser(self, request: Request, parsers: Sequence[BaseParser]) -> BaseParser:
        return parsers[0]

    def select_renderer(
        self, request: Request, renderers: Sequence[BaseRenderer], format_suffix: str | None = None
    ) -> tuple[BaseRenderer, str]:
        return renderers[0], renderers[0].media_type


def original(request: Request, picture: Picture, file_name: str) -> HttpResponseBase:
    """The file as it was uploaded, byte for byte. Permission is asked again each time, so it is kept but never used unasked."""
    tag = f'"{picture.sha256}"'
    headers = {"ETag": tag, "Cache-Control": "private, no-cache"}
    if tag in request.headers.get("If-None-Match", ""):
        return HttpResponseNotModified(headers=headers)
    is_shown = "inline" in request.query_params and picture.media_type in SHOWN_INLINE
    name = file_name or f"{picture.sha256[:12]}.{ENDINGS.get(picture.media_type, 'bin')}"
    headers["Content-Disposition"] = content_disposition_header(not is_shown, name) or "attachment"
    return picture_answer(request, picture.file_name, picture.media_type, headers)


def rendition(request: Request, picture: Picture, nominal_px: int) -> HttpResponseBase:
    row: Rendition | None = picture.renditions.filter(nominal_px=nominal_px).first()
    if row is None:
        raise NotFound("There is no copy of this size, or not yet.")
    headers = {"Cache-Control": "private, max-age=31536000, immutable", "Content-Disposition": "inline"}
    return picture_answer(request, row.file_name, WEBP, headers)


def picture_answer(request: Request, name: str, media_type: str, headers: dict[str, str]) -> HttpResponseBase:
    if not file_is_kept(name):
        raise NotFound("The file is missing from the storage.")
    is_async = hasattr(request._request, "scope")
    response = StreamingHttpResponse(_chunks_async(name) if is_async else _chunks(name), content_type=media_type, headers=headers)
    response["Content-Length"] = str(size_of(name))
    response["X-Content-Type-Options"] = "nosniff"
    response["Content-Security-Policy"] = ONLY_A_PICTURE
    return response


def _chunks(name: str) -> Iterator[bytes]:
    with open_file(name) as file:
        while chunk := file.read(CHUNK):
            yield chunk


async def _chunks_async(name: str) -> AsyncIterator[bytes]:
    file = await asyncio.to_thread(open_file, name)
    try:
        while chunk := await asyncio.to_thread(file.read, CHUNK):
            yield chunk
    finally:
        file.close()
