"""Static files are sent before Django is asked: a screen has some dozens of them, and each would go through every middleware."""

from typing import Any, ClassVar

from django.http import HttpResponse
from whitenoise.middleware import WhiteNoiseMiddleware
from whitenoise.responders import StaticFile

LATIN = "latin-1"
# As Django's SecurityMiddleware gives them.
SECURE = (
    (b"x-content-type-options", b"nosniff"), (b"referrer-policy", b"same-origin"), (b"cross-origin-opener-policy", b"same-origin"),
)


class FilesFoundOnce(WhiteNoiseMiddleware):
    """Looks through the static files once in a process: Django's middleware and `StaticFirst` send the same ones."""

    found: ClassVar[dict[tuple[str, str], dict[str, StaticFile]]] = {}

    def update_files_dictionary(self, root: str, prefix: str) -> None:
        if (root, prefix) not in self.found:
            before = set(self.files)
            super().update_files_dictionary(root, prefix)
            self.found[root, prefix] = {path: file for path, file in self.files.items() if path not in before}
        self.files.update(self.found[root, prefix])


class StaticFirst:
    def __init__(self, application: Any) -> None:
        self.application = application
        # It knows none where files may change while it runs (UNDERBLUE_DEBUG): then Django looks for them.
        self.files = FilesFoundOnce(lambda request: HttpResponse()).files

    async def __call__(self, scope: dict, receive: Any, send: Any) -> None:
        file = self.files.get(scope["path"]) if scope["type"] == "http" else None
        if file is None:
            await self.application(scope, receive, send)
        else:
            await self._send_file(file, scope, send)

    async def _send_file(self, file: StaticFile, scope: dict, send: Any) -> None:
        response = file.get_response(scope["method"], as_environ(scope["headers"]))
        body = b""
        if response.file:
            with response.file as opened:
                body = opened.read()
        headers = [(name.lower().encode(LATIN), value.encode(LATIN)) for name, value in response.headers]
        await send({"type": "http.response.start", "status": int(response.status), "headers": [*headers, *SECURE]})
        await send({"type": "http.response.body", "body": body})


def as_environ(headers: list[tuple[bytes, bytes]]) -> dict[str, str]:
    return {f"HTTP_{name.decode(LATIN).upper().replace('-', '_')}": value.decode(LATIN) for name, value in headers}
