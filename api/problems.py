"""Every error as a problem document (RFC 9457), those of the framework too."""

import errno
import json
import logging
import re
from typing import Any

from django.core.exceptions import PermissionDenied, RequestDataTooBig, SuspiciousOperation
from django.core.signals import got_request_exception
from django.db import DatabaseError
from django.http import Http404, HttpResponse
from rest_framework import exceptions, serializers

from board.actions.row_locks import is_deadlock
from board.errors import BoardError, NotAllowed, NotFound, NotValid

logger = logging.getLogger(__name__)
UNIQUE = "23505"  # as PostgreSQL numbers it
MEDIA_TYPE = "application/problem+json"


class ProblemSerializer(serializers.Serializer):
    """What went wrong, for programs (`type`, `code`) and for people (`detail`, `errors`)."""

    type = serializers.CharField(help_text="An address on this server: a page that says what it means and what to do.")
    title = serializers.CharField()
    status = serializers.IntegerField()
    detail = serializers.CharField()
    instance = serializers.CharField(required=False)
    code = serializers.CharField(required=False)
    errors = serializers.DictField(child=serializers.ListField(child=serializers.CharField()), required=False)  # type: ignore[assignment]  # the field bears a name that the base class has too


class BodyTooLarge(BoardError):
    """What you sent is larger than is taken here."""

    status = 413


class MetAnotherChange(BoardError):
    """Somebody changed this at the same moment. Nothing of your request was kept: send it again."""

    status = 409


class NoRoom(BoardError):
    """There is no room left on the server's disk. Nothing of your request was kept; whoever runs the server has to make some."""

    status = 507


class Broken(BoardError):
    """Something broke on the server. It was noted down. What was sent may have been kept all the same."""

    status = 500


def problem_from_exception(error: Exception, context: dict[str, Any]) -> HttpResponse:
    request = context.get("request")
    if isinstance(error, Http404):
        error = NotFound()
    elif isinstance(error, PermissionDenied):
        error = NotAllowed()
    elif isinstance(error, RequestDataTooBig):
        error = BodyTooLarge()
    elif isinstance(error, SuspiciousOperation):
        error = NotValid()
    elif isinstance(error, DatabaseError) and met_another_change(error):
        logger.warning("%s %s met another change: %s", *_method_and_path(request), error)
        error = MetAnotherChange()
    elif is_out_of_room(error):
        logger.error("%s %s found no room on the disk: %s", *_method_and_path(request), error)
        error = NoRoom()
    elif not isinstance(error, (BoardError, exceptions.APIException)):
        logger.error("%s %s broke", *_method_and_path(request), exc_info=error)
        got_request_exception.send(sender=None, request=getattr(request, "_request", request))
        error = Broken()
    return problem(error, instance=_method_and_path(request)[1])


def met_another_change(error: DatabaseError) -> bool:
    """Two wrote the same unique thing, each waited for what the other held, or one that holds SQLite did not let go in time."""
    in_sqlite = ("SQLITE_CONSTRAINT_UNIQUE", "SQLITE_BUSY", "SQLITE_BUSY_SNAPSHOT")
    return is_deadlock(error) or getattr(error.__cause__, "sqlstate", "") == UNIQUE or _sqlite_name(error) in in_sqlite


def is_out_of_room(error: Exception) -> bool:
    return getattr(error, "errno", 0) in (errno.ENOSPC, errno.EDQUOT) or _sqlite_name(error) == "SQLITE_FULL"


def _sqlite_name(error: Exception) -> str:
    return getattr(error.__cause__, "sqlite_errorname", "")


def problem(error: BoardError | exceptions.APIException, instance: str = "") -> HttpResponse:
    members = _of_board(error) if isinstance(error, BoardError) else _of_framework(error)
    document = {"type": f"/problems/{slug_of(type(error))}", "title": title_of(type(error)), **members}
    if instance:
        document["instance"] = instance
    # Half a letter that was sent, and is told of, is no text; as JSON writes it out, it can be read.
    body = json.dumps(document, ensure_ascii=False).encode("utf-8", "backslashreplace")
    response = HttpResponse(body, content_type=MEDIA_TYPE, status=document["status"])
    for name, value in _headers(error).items():
        response[name] = value
    return response


def _of_board(error: BoardError) -> dict:
    return {"status": error.status, "detail": error.message, **error.details}


def _of_framework(error: exceptions.APIException) -> dict:
    if isinstance(error, exceptions.ValidationError):
        return {"status": error.status_code, "detail": NotValid().message, "errors": dict(flat_errors(error.detail))}
    if wait := _seconds_to_wait(error):
        return {"status": error.status_code, "detail": f"You asked too often. Try again in {wait} seconds."}
    return {"status": error.status_code, "detail": str(error.detail)}


def flat_errors(detail: Any, name: str = "") -> list[tuple[str, list[str]]]:
    """[("panels.0.polygon", ["An outline has 3 to 500 corners."])]; what belongs to no field stands under ""."""
    if isinstance(detail, dict):
        return [pair for key, inner in detail.items() for pair in flat_errors(inner, _dotted(name, key))]
    if isinstance(detail, list) and any(isinstance(inner, (dict, list)) for inner in detail):
        return [pair for i, inner in enumerate(detail) for pair in flat_errors(inner, _dotted(name, i))]
    return [(name, [str(text) for text in detail] if isinstance(detail, list) else [str(detail)])]


def _dotted(name: str, key: object) -> str:
    return name if key == "non_field_errors" else f"{name}.{key}" if name else str(key)


def slug_of(kind: type[Exception]) -> str:
    return re.sub(r"(?<!^)(?=[A-Z])", "-", kind.__name__).lower()


def title_of(kind: type[Exception]) -> str:
    return slug_of(kind).replace("-", " ").capitalize()


def _headers(error: Exception) -> dict[str, str]:
    headers = {}
    if challenge := getattr(error, "auth_header", None):
        headers["WWW-Authenticate"] = challenge
    if wait := _seconds_to_wait(error):
        headers["Retry-After"] = str(wait)
    return headers


def _seconds_to_wait(error: Exception) -> int | None:
    """Of what was asked too often."""
    wait = getattr(error, "wait", None)
    return int(wait) + 1 if wait else None


def _method_and_path(request: Any) -> tuple[str, str]:
    return (request.method, request.path) if request is not None else ("", "")
