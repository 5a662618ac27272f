"""One reader's stream of Server-Sent Events (HTML Living Standard, 9.2)."""

import json
from collections.abc import AsyncIterator

from rest_framework.renderers import JSONRenderer

from api.event_poller import in_reading_thread, poller_of_this_loop
from api.event_reading import MOST_AT_ONCE, EventSerializer, events_after
from api.sign_in_watch import SignIn
from api.told_to_stop import is_told_to_stop
from board.access import access_board
from board.errors import BoardError

HEARTBEAT_SECONDS = 15.0
OPENING = "retry: 3000\n\n"
HEARTBEAT = ": still here\n\n"


class SignedOut(Exception):
    """The stream ends: whoever opened it may no longer read it."""


async def follow(*, user_id: int, board_id: int, after: int, sign_in: SignIn) -> AsyncIterator[str]:
    """What comes after event `after`, as it happens, until the reader goes, signs out or leaves the board, or the server
    is told to stop."""
    async with poller_of_this_loop().watching(board_id) as board:
        yield OPENING
        while not is_told_to_stop():
            try:
                texts, last, is_all = await in_reading_thread(read_for, user_id, board_id, after, sign_in)
            except SignedOut:
                return
            for text in texts:
                yield text
            after = last
            if is_all and not await board.moved_past(last, HEARTBEAT_SECONDS):
                yield HEARTBEAT


def read_for(user_id: int, board_id: int, after: int, sign_in: SignIn) -> tuple[list[str], int, bool]:
    """Asked anew each time: is the reader still signed in, still on the board, and what may they see now?"""
    user = sign_in.user()
    if user is None or user.pk != user_id:
        raise SignedOut
    try:
        seat = access_board(user, board_id)
    except BoardError as error:
        raise SignedOut from error
    events, last = events_after(seat, after)
    rows: list[dict] = list(EventSerializer(events, many=True).data)  # type: ignore[call-overload]  # see EventSerializer.data
    return [as_text(event) for event in rows], last, len(events) < MOST_AT_ONCE


def as_text(event: dict) -> str:
    data = json.dumps(json.loads(JSONRenderer().render(event)), ensure_ascii=False)
    return f"id: {event['number']}\nevent: change\ndata: {data}\n\n"
