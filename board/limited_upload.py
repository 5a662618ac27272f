"""Uploads go to a temporary file as they arrive, and are cut off once they pass the limit."""

import json
from collections.abc import Awaitable, Callable, MutableMapping
from typing import Any

from django.conf import settings
from django.core.files.uploadhandler import StopUpload, TemporaryFileUploadHandler

from board.errors import PictureTooLarge

# What stands in a form around its file.
FORM_BYTES = 1024 * 1024
# Beyond the limit, so many times as much is still read and thrown away, so that the sender hears the answer; then the line is cut.
PATIENCE = 4

Message = MutableMapping[str, Any]
Receive = Callable[[], Awaitable[Message]]
Send = Callable[[Message], Awaitable[None]]


def too_large() -> PictureTooLarge:
    megabytes = settings.UPLOAD_LIMITS.most_bytes // (1024 * 1024)
    return PictureTooLarge(f"The file is larger than the {megabytes} MB that are taken here.")


class LimitedUploadHandler(TemporaryFileUploadHandler):
    def receive_data_chunk(self, raw_data: bytes, start: int) -> None:
        if start + len(raw_data) > settings.UPLOAD_LIMITS.most_bytes:
            self.request.upload_was_cut_off = True  # type: ignore[union-attr]
            raise StopUpload(connection_reset=False)
        super().receive_data_chunk(raw_data, start)


def refuse_if_cut_off(request: object) -> None:
    """Call it once the form was read. Raises PictureTooLarge."""
    if getattr(request, "upload_was_cut_off", False):
        raise too_large()


class BodyTooLong(Exception):
    """More has come than any request may carry; `is_all`: and nothing more will."""

    def __init__(self, *, is_all: bool) -> None:
        self.is_all = is_all


class LimitedBody:
    """Under ASGI the framework writes the whole body to disk before any of our code runs; so it is counted out here."""

    def __init__(self, application: Callable[..., Awaitable[None]]) -> None:
        self.application = application

    async def __call__(self, scope: Message, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self.application(scope, receive, send)
            return
        most, came = settings.UPLOAD_LIMITS.most_bytes + FORM_BYTES, 0

        async def counted() -> Message:
            nonlocal came
            message = await receive()
            came += len(message.get("body", b""))
            if came > most:
                raise BodyTooLong(is_all=not message.get("more_body", False))
            return message

        try:
            await self.application(scope, counted, send)
        except BodyTooLong as error:
            if not error.is_all:
                await _throw_away(receive, PATIENCE * most)
            await _answer(send)


async def _throw_away(receive: Receive, most: int) -> None:
    came = 0
    while came <= most:
        message = await receive()
        came += len(message.get("body", b""))
        if not message.get("more_body", False):
            return


async def _answer(send: Send) -> None:
    error = too_large()
    problem = {"type": "/problems/picture-too-large", "title": "Picture too large", "status": error.status, "detail": error.message}
    headers = [(b"content-type", b"application/problem+json"), (b"connection", b"close")]
    await send({"type": "http.response.start", "status": error.status, "headers": headers})
    await send({"type": "http.response.body", "body": json.dumps(problem).encode()})
