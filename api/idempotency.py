"""`Idempotency-Key`: a POST that is sent again gets the first answer again, and does nothing a second time."""

import hashlib
import json
from collections.abc import Callable, Iterator
from typing import Any, BinaryIO, cast

from django.core.files.uploadedfile import UploadedFile
from django.db import transaction
from rest_framework.renderers import JSONRenderer
from rest_framework.request import Request
from rest_framework.response import Response

from board.access import signed_in
from board.actions.kept_answers import forget_answer, keep_answer, open_answer
from board.errors import NotValid
from board.limited_upload import refuse_if_cut_off
from board.picture_files import sha256_of

LONGEST_KEY = 200


def answer_once(handler: Callable[..., Response], request: Request, *args: object, **kwargs: object) -> Response:
    """Raises KeyReused (422) for another request under the same key, StillAtWork (409) while the first one runs."""
    key = key_of(request)
    if key is None:
        return handler(request, *args, **kwargs)
    kept = open_answer(user=signed_in(request), key=key, request_digest=digest_of(request))
    if kept.status is not None:
        return Response(kept.body, status=kept.status)
    try:
        with transaction.atomic():  # the answer is kept if and only if the work is
            response = handler(request, *args, **kwargs)
            keep_answer(answer=kept, status=response.status_code, body=plain(response.data))
    except BaseException:
        forget_answer(answer=kept)
        raise
    return response


def key_of(request: Request) -> str | None:
    key = request.headers.get("Idempotency-Key")
    if key is not None and not (0 < len(key) <= LONGEST_KEY and key.isascii() and key.isprintable()):
        raise NotValid(f"An Idempotency-Key is 1 to {LONGEST_KEY} plain characters.")
    return key


def plain(data: object) -> object:
    return json.loads(JSONRenderer().render(data))


def digest_of(request: Request) -> str:
    """Of method, address and what was sent: fields as they were read, files by their bytes."""
    digest = hashlib.sha256(f"{request.method} {request.get_full_path()}\n".encode())
    data = request.data
    refuse_if_cut_off(request)
    parts = _form_parts(data) if hasattr(data, "lists") else [json.dumps(data, sort_keys=True)]
    for part in parts:
        digest.update(hashlib.sha256(part.encode()).digest())
    return digest.hexdigest()


def _form_parts(form: Any) -> Iterator[str]:
    for name, values in sorted(form.lists()):
        for value in values:
            yield name
            yield f"{value.name} {sha256_of(cast(BinaryIO, value.file))}" if isinstance(value, UploadedFile) else str(value)
