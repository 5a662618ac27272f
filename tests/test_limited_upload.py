"""A body that is longer than any request may carry is not written to disk, and its sender is told."""

import json

import pytest
from asgiref.testing import ApplicationCommunicator

from board.asgi import application
from board.limited_upload import FORM_BYTES, LimitedBody
from board.upload_limits import UploadLimits

MEGABYTE = b"0" * 1024 * 1024
SCOPE = {
    "type": "http", "method": "POST", "path": "/api/v1/pages/1/revisions", "query_string": b"",
    "headers": [(b"host", b"testserver")],
}


@pytest.fixture(autouse=True)
def one_megabyte(settings) -> None:
    settings.UPLOAD_LIMITS = UploadLimits(most_bytes=1024 * 1024)


async def send(app, pieces: int) -> ApplicationCommunicator:
    sender = ApplicationCommunicator(app, dict(SCOPE))
    for n in range(pieces):
        await sender.send_input({"type": "http.request", "body": MEGABYTE, "more_body": n < pieces - 1})
    return sender


@pytest.mark.parametrize("pieces", [3, 9, 40])
async def test_what_is_too_long_gets_a_problem(pieces):
    sender = await send(application, pieces)
    start, body = await sender.receive_output(5), await sender.receive_output(5)
    assert start["status"] == 413
    assert (b"content-type", b"application/problem+json") in start["headers"]
    assert json.loads(body["body"])["detail"] == "The file is larger than the 1 MB that are taken here."


async def test_no_more_is_handed_on_than_may_be_carried():
    came = 0

    async def count(scope, receive, answer):
        nonlocal came
        while True:
            came += len((await receive())["body"])

    sender = await send(LimitedBody(count), 9)
    assert (await sender.receive_output(5))["status"] == 413
    assert came <= 1024 * 1024 + FORM_BYTES


@pytest.mark.django_db(transaction=True)
async def test_what_fits_goes_through():
    sender = await send(application, 1)
    assert (await sender.receive_output(5))["status"] == 401
