"""Reads a board's log as a browser follows it."""

import asyncio
import json
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager

from django.test import AsyncClient

from tests.conftest import Cast


class Stream:
    def __init__(self, client: AsyncClient, chunks: AsyncIterator[bytes]) -> None:
        self.client = client
        self._chunks = chunks

    async def next_text(self) -> str | None:
        """The next piece; None once the stream has ended."""
        chunk = await asyncio.wait_for(anext(self._chunks, None), 10)
        return None if chunk is None else chunk.decode()

    async def changes(self, count: int) -> list[dict]:
        """As many events, each with the `id` and `event` that it was sent under."""
        found: list[dict] = []
        while len(found) < count and (text := await self.next_text()) is not None:
            fields = dict(line.split(": ", 1) for line in text.splitlines() if line and not line.startswith(":"))
            if "data" in fields:
                found.append({"id": int(fields["id"]), "event": fields["event"], **json.loads(fields["data"])})
        return found

    async def has_ended(self) -> bool:
        """Reads on to the end; heartbeats may come before it."""
        for _ in range(50):
            if await self.next_text() is None:
                return True
        return False


@asynccontextmanager
async def stream_of(cast: Cast, person: str, query: str = "", **headers: str) -> AsyncIterator[Stream]:
    client = AsyncClient()
    if "Authorization" not in headers:
        await client.aforce_login(cast.people[person])
    response = await client.get(
        f"/api/v1/boards/{cast.board.pk}/events{query}", headers={"Accept": "text/event-stream", **headers}
    )
    assert response.status_code == 200
    assert response["Content-Type"].startswith("text/event-stream")
    chunks = response.streaming_content
    try:
        yield Stream(client, chunks)
    finally:
        await chunks.aclose()
