"""What an artist's own script does: a token, a page, an upload, and waiting until it is measured."""

import json
import time
import uuid
from collections.abc import Callable
from typing import Any
from urllib.request import Request, urlopen

import cv2
import numpy as np

from board.management.demo_people import DEMO_PEOPLE

# No more than a limit: on a machine that does much else, a page takes its time.
MEASURED_WITHIN_SECONDS = 150
# Of a server and a person. A password is checked slowly on purpose, and once for each is enough.
TOKENS: dict[tuple[str, str], str] = {}


class Script:
    def __init__(self, server: str, username: str = "wim") -> None:
        self.root, self.token = f"{server}/api/v1", ""
        if (server, username) not in TOKENS:
            password = next(person.password for person in DEMO_PEOPLE if person.name == username)
            TOKENS[server, username] = self.send("POST", "/tokens", {"username": username, "password": password})["token"]
        self.token = TOKENS[server, username]

    def send(
        self, method: str, path: str, body: Any = None, content_type: str = "application/json", version: int | None = None
    ) -> Any:
        data = body if isinstance(body, bytes) else json.dumps(body).encode() if body is not None else None
        headers = {"Content-Type": content_type, "Accept": "application/json"}
        if self.token:
            headers["Authorization"] = f"Bearer {self.token}"
        if version is not None:
            headers["If-Match"] = f'"{version}"'
        with urlopen(Request(self.root + path, data, headers, method=method), timeout=30) as answer:
            return json.loads(answer.read() or b"null")

    def add_page(self, number: int) -> int:
        return self.send("POST", "/boards/1/pages", {"number": number, "drawn_by": "wim"})["id"]

    def upload(self, page: int, gray: np.ndarray, stage: str = "thumbnail") -> dict:
        """Sends a picture and waits for its last check."""
        revision = self.send_picture(f"/pages/{page}/revisions", gray, stage=stage)
        return self.wait_for(lambda: self._measured(revision["id"]))

    def add_reference(self, title: str, gray: np.ndarray, kind: str = "still") -> dict:
        row = self.send_picture("/boards/1/references", gray, title=title, kind=kind)
        return self.wait_for(lambda: self._read(row["id"]))

    def send_picture(self, path: str, gray: np.ndarray, **fields: str) -> dict:
        boundary = uuid.uuid4().hex
        part = '--{}\r\nContent-Disposition: form-data; name="{}"\r\n\r\n{}\r\n'
        parts = [part.format(boundary, name, value) for name, value in fields.items()]
        head = (f'--{boundary}\r\nContent-Disposition: form-data; name="image"; filename="room.png"\r\n'
                "Content-Type: image/png\r\n\r\n")
        png = cv2.imencode(".png", gray)[1].tobytes()
        body = "".join([*parts, head]).encode() + png + f"\r\n--{boundary}--\r\n".encode()
        return self.send("POST", path, body, f"multipart/form-data; boundary={boundary}")

    def _read(self, number: int) -> dict | None:
        row = self.send("GET", f"/references/{number}")
        return row if row["state"] != "received" else None

    def _measured(self, number: int) -> dict | None:
        revision = self.send("GET", f"/revisions/{number}")
        at_work = any(check["state"] in ("queued", "running") for check in revision["checks"])
        return revision if revision["panels"] and not at_work else None

    def wait_for(self, answer: Callable[[], Any]) -> Any:
        """What `answer` gives once it gives something."""
        deadline = time.monotonic() + MEASURED_WITHIN_SECONDS
        while time.monotonic() < deadline:
            if found := answer():
                return found
            time.sleep(0.2)
        raise AssertionError("It was not measured in time.")
