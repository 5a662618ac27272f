"""What an artist's own script does: a token, a page, an upload, and waiting until it is measured."""

import json
import time
import uuid
from typing import Any
from urllib.request import Request, urlopen

import cv2
import numpy as np

from board.management.demo_people import DEMO_PEOPLE

MEASURED_WITHIN_SECONDS = 40


class Script:
    def __init__(self, server: str, username: str = "wim") -> None:
        self.root, self.token = f"{server}/api/v1", ""
        password = next(person.password for person in DEMO_PEOPLE if person.name == username)
        self.token = self.send("POST", "/tokens", {"username": username, "password": password})["token"]

    def send(self, method: str, path: str, body: Any = None, content_type: str = "application/json") -> Any:
        data = body if isinstance(body, bytes) else json.dumps(body).encode() if body is not None else None
        headers = {"Content-Type": content_type, "Accept": "application/json"}
        if self.token:
            headers["Authorization"] = f"Bearer {self.token}"
        with urlopen(Request(self.root + path, data, headers, method=method), timeout=30) as answer:
            return json.loads(answer.read() or b"null")

    def add_page(self, number: int) -> int:
        return self.send("POST", "/boards/1/pages", {"number": number, "drawn_by": "wim"})["id"]

    def upload(self, page: int, gray: np.ndarray, stage: str = "thumbnail") -> dict:
        """Sends a picture and waits for its last check."""
        boundary = uuid.uuid4().hex
        png = cv2.imencode(".png", gray)[1].tobytes()
        body = (
            f'--{boundary}\r\nContent-Disposition: form-data; name="stage"\r\n\r\n{stage}\r\n'
            f'--{boundary}\r\nContent-Disposition: form-data; name="image"; filename="room.png"\r\n'
            "Content-Type: image/png\r\n\r\n"
        ).encode() + png + f"\r\n--{boundary}--\r\n".encode()
        revision = self.send("POST", f"/pages/{page}/revisions", body, f"multipart/form-data; boundary={boundary}")
        deadline = time.monotonic() + MEASURED_WITHIN_SECONDS
        while time.monotonic() < deadline:
            revision = self.send("GET", f"/revisions/{revision['id']}")
            if all(check["state"] not in ("queued", "running") for check in revision["checks"]) and revision["panels"]:
                return revision
            time.sleep(0.2)
        raise AssertionError(f"Not measured in time: {revision['checks']}")
