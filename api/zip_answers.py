"""Zips, sent as they are written: from an async iterator under ASGI, where a plain one would be read whole first."""

import asyncio
from collections.abc import AsyncIterator, Iterable, Iterator

from django.http import StreamingHttpResponse
from django.http.response import HttpResponseBase
from django.utils.http import content_disposition_header
from rest_framework.request import Request

from board.zipped_files import ZipEntry, zipped

ZIP = "application/zip"


def zip_answer(request: Request, entries: Iterable[ZipEntry], name: str) -> HttpResponseBase:
    """`entries` are there already: what is sent later reads no rows."""
    chunks = zipped(list(entries))
    body = _in_threads(chunks) if hasattr(request._request, "scope") else chunks
    headers = {"Content-Disposition": content_disposition_header(True, name) or "attachment", "Cache-Control": "private, no-store"}
    return StreamingHttpResponse(body, content_type=ZIP, headers=headers)


async def _in_threads(chunks: Iterator[bytes]) -> AsyncIterator[bytes]:
    while (chunk := await asyncio.to_thread(next, chunks, None)) is not None:
        yield chunk
