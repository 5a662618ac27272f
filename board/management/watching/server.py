"""The REST API as the watcher needs it: pages, what a page has, and one upload. Standard library alone."""

import json
import mimetypes
import uuid
from collections.abc import Callable, Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass
from http.client import HTTPException
from typing import IO, Any
from urllib.error import HTTPError, URLError
from urllib.parse import quote, urlsplit
from urllib.request import HTTPRedirectHandler, Request, build_opener

TIMEOUT_SECONDS = 60
CHUNK = 1 << 16
# The same request may do better later: at work on it already, too many, or something of the server's own.
LATER = {408, 409, 425, 429, 500, 502, 503, 504, 507}
NOTHING: Mapping[str, str] = {}
LOOPBACK = {"127.0.0.1", "localhost", "::1"}


class TryLater(Exception):
    """The line broke, or the server asks for patience; `after_seconds` if it said how much."""

    def __init__(self, reason: str, after_seconds: float | None = None) -> None:
        super().__init__(reason)
        self.after_seconds = after_seconds


class Refused(Exception):
    """The server will not take this, however often it is sent."""

    def __init__(self, reason: str, status: int) -> None:
        super().__init__(reason)
        self.status = status


class _StayHere(HTTPRedirectHandler):
    """A token goes to the server it was given for, and nowhere else."""

    def redirect_request(self, *args: Any, **kwargs: Any) -> None:
        return None


@dataclass
class Server:
    address: str  # https://host, without a slash at its end
    token: str = ""
    renew: Callable[[], str] | None = None  # reads the token again, which may have been replaced meanwhile

    def __post_init__(self) -> None:
        self._opener = build_opener(_StayHere)

    @property
    def is_overheard(self) -> bool:
        """Whether a token would go over an open line."""
        parts = urlsplit(self.address)
        return parts.scheme != "https" and parts.hostname not in LOOPBACK

    def sign_in(self, username: str, password: str) -> None:
        body = json.dumps({"username": username, "password": password}).encode()
        self.token = self._send("POST", "/api/v1/tokens", body, {"Content-Type": "application/json"})["token"]

    def rows(self, path: str) -> Iterator[dict[str, Any]]:
        link: str | None = f"/api/v1{path}"
        while link:
            answer = self._send("GET", link)
            yield from answer["results"]
            link = answer["next"]

    def read(self, path: str) -> dict[str, Any]:
        return self._send("GET", f"/api/v1{path}")

    def upload(self, page: int, file: IO[bytes], size: int, name: str, fields: dict[str, str], key: str) -> dict[str, Any]:
        """A new revision. Sent again with the same key, it arrives once."""
        boundary = uuid.uuid4().hex
        before, after = form_parts(boundary, name, fields)
        file.seek(0)
        headers = {
            "Content-Type": f"multipart/form-data; boundary={boundary}", "Idempotency-Key": key,
            "Content-Length": str(len(before) + size + len(after)),
        }
        return self._send("POST", f"/api/v1/pages/{page}/revisions", chunks(before, file, after), headers)

    def _send(self, method: str, path: str, body: Any = None, headers: Mapping[str, str] = NOTHING) -> Any:
        """`body` is bytes, or yields them."""
        signed = {"Authorization": f"Bearer {self.token}"} if self.token else {}
        request = Request(self.address + path, body, {"Accept": "application/json", **signed, **headers}, method=method)
        try:
            with self._opener.open(request, timeout=TIMEOUT_SECONDS) as answer:
                return json.load(answer)
        except HTTPError as error:
            if error.code == 401 and self._has_another_token():
                raise TryLater("There is a new token.") from error
            raise _problem_of(error) from error
        except (URLError, OSError, HTTPException, ValueError) as error:  # one that is cut off in its middle is an HTTPException
            raise TryLater(f"The server does not answer ({getattr(error, 'reason', error)}).") from error

    def _has_another_token(self) -> bool:
        old = self.token
        with suppress(OSError):
            self.token = (self.renew() if self.renew else "") or old
        return self.token != old


def form_parts(boundary: str, name: str, fields: dict[str, str]) -> tuple[bytes, bytes]:
    """What stands before the picture in a form, and after it."""
    parts = [f'--{boundary}\r\nContent-Disposition: form-data; name="{key}"\r\n\r\n{value}\r\n' for key, value in fields.items()]
    safe = name.replace("\\", "_").replace('"', "%22").replace("\r", "_").replace("\n", "_")
    kind = mimetypes.guess_type(name)[0] or "application/octet-stream"
    head = (f'--{boundary}\r\nContent-Disposition: form-data; name="image"; filename="{safe}"\r\nContent-Type: {kind}\r\n\r\n')
    return "".join([*parts, head]).encode(), f"\r\n--{boundary}--\r\n".encode()


def chunks(before: bytes, file: IO[bytes], after: bytes) -> Iterator[bytes]:
    yield before
    while chunk := file.read(CHUNK):
        yield chunk
    yield after


def board_path(board: int) -> str:
    return f"/boards/{quote(str(board))}/pages?limit=500"


def _problem_of(error: HTTPError) -> Exception:
    try:
        told = json.loads(error.read())
        reason = told.get("detail") or told.get("title") or ""
        errors = "; ".join(text for texts in told.get("errors", {}).values() for text in texts)
        reason = f"{reason} {errors}".strip()
    except (ValueError, OSError, HTTPException, AttributeError):
        reason = ""
    reason = reason or f"The server answered {error.code}."
    if error.code in LATER:
        wait = error.headers.get("Retry-After", "")
        return TryLater(reason, float(wait) if wait.isdigit() else None)
    return Refused(reason, error.code)
