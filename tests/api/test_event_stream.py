"""The board's log as server-sent events: in order, without gaps, to those who may see it, as long as they may."""

import asyncio
import signal
import threading

import pytest
from asgiref.sync import sync_to_async
from asgiref.testing import ApplicationCommunicator
from django.db import connection
from django.test import AsyncClient

from api import event_stream, told_to_stop
from api.event_poller import poller_of_this_loop
from board.actions.members import remove_member
from board.actions.notes import pin_note
from board.actions.tokens import issue_token, revoke_tokens
from board.asgi import application
from board.models import Board, Event, Member
from tests.api.streams import stream_of

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def short_heartbeat(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(event_stream, "HEARTBEAT_SECONDS", 0.05)


@sync_to_async
def pin(cast, body: str, page=None, **more) -> None:
    pin_note(seat=cast.seat("editor"), page=page or cast.page, body=body, tone="try", **more)


async def test_it_goes_on_behind_the_last_event_that_was_seen(cast):
    for body in ("One.", "Two.", "Three."):
        await pin(cast, body)
    numbers = [number async for number in Event.objects.filter(kind="note-pinned").values_list("number", flat=True)]
    async with stream_of(cast, "artist", **{"Last-Event-ID": str(numbers[0])}) as stream:
        changes = await stream.changes(2)
    assert [change["id"] for change in changes] == [change["number"] for change in changes] == numbers[1:]
    assert [(change["event"], change["kind"]) for change in changes] == [("change", "note-pinned")] * 2
    assert changes[0]["actor"]["username"] == "editor"


async def test_without_a_number_it_begins_now(cast):
    await pin(cast, "Before.")
    async with stream_of(cast, "artist") as stream:
        assert await stream.next_text() == "retry: 3000\n\n"
        await pin(cast, "After.")
        (change,) = await stream.changes(1)
    last = await Event.objects.alatest("number")
    assert change["id"] == last.number


async def test_what_several_writers_write_meanwhile_arrives_in_order_and_whole(cast):
    def write(n: int) -> None:
        try:
            for i in range(5):
                pin_note(seat=cast.seat("editor"), page=cast.page, body=f"{n}.{i}", tone="try")
        finally:
            connection.close()

    start = (await Event.objects.alatest("number")).number
    threads = [threading.Thread(target=write, args=(n,)) for n in range(4)]
    async with stream_of(cast, "artist") as stream:
        for thread in threads:
            thread.start()
        changes = await stream.changes(20)
    for thread in threads:
        await asyncio.to_thread(thread.join)
    assert [change["id"] for change in changes] == list(range(start + 1, start + 21))


async def test_a_held_note_reaches_its_writer_alone(cast):
    start = (await Event.objects.alatest("number")).number
    await pin(cast, "Mine.", is_held=True)
    await pin(cast, "Ours.")
    async with stream_of(cast, "artist", f"?after={start}") as others, stream_of(cast, "editor", f"?after={start}") as own:
        assert [change["kind"] for change in await others.changes(1)] == ["note-pinned"]
        assert [change["kind"] for change in await own.changes(2)] == ["note-held", "note-pinned"]


async def test_a_student_hears_of_the_own_page_alone(cast):
    start = (await Event.objects.alatest("number")).number
    await pin(cast, "On the artist's page.")
    await pin(cast, "On the student's.", page=cast.own_page)
    async with stream_of(cast, "student", f"?after={start}") as stream:
        (change,) = await stream.changes(1)
    assert (change["id"], change["page"]) == (start + 2, cast.own_page.pk)


async def test_while_nothing_happens_a_heartbeat_is_sent(cast, short_heartbeat):
    async with stream_of(cast, "artist") as stream:
        texts = [await stream.next_text() for _ in range(3)]
    assert texts[1] == texts[2] == ": still here\n\n"


async def test_it_ends_when_the_reader_signs_out(cast, short_heartbeat):
    async with stream_of(cast, "artist") as stream:
        await stream.next_text()
        await stream.client.alogout()
        await pin(cast, "Not for those who left.")
        assert await stream.changes(1) == []


async def test_it_ends_when_the_token_is_taken_back(cast, short_heartbeat):
    token = await sync_to_async(issue_token)(user=cast.artist)
    async with stream_of(cast, "artist", Authorization=f"Bearer {token}") as stream:
        await stream.next_text()
        await sync_to_async(revoke_tokens)(user=cast.artist)
        assert await stream.has_ended()


async def test_it_ends_when_the_reader_loses_the_seat(cast, short_heartbeat):
    async with stream_of(cast, "artist") as stream:
        await stream.next_text()
        member = await Member.objects.aget(user=cast.artist)
        await sync_to_async(lambda: remove_member(seat=cast.seat("owner"), member=member))()
        assert await stream.changes(1) == []


async def test_it_ends_at_once_when_the_board_is_deleted(cast):
    async with stream_of(cast, "reader") as stream:
        assert await stream.next_text() == "retry: 3000\n\n"
        await Board.objects.filter(pk=cast.board.pk).adelete()
        assert await stream.next_text() is None  # long before the first heartbeat


async def test_it_ends_when_the_server_is_told_to_stop_and_the_server_hears_of_it(cast, monkeypatch):
    monkeypatch.setattr(told_to_stop, "_told", False)
    heard: list[int] = []
    before = signal.signal(signal.SIGTERM, lambda number, frame: heard.append(number))
    try:
        async with stream_of(cast, "artist") as one, stream_of(cast, "editor") as two:
            assert [await one.next_text(), await two.next_text()] == ["retry: 3000\n\n"] * 2
            signal.raise_signal(signal.SIGTERM)
            assert await one.has_ended() and await two.has_ended() and heard == [signal.SIGTERM]
    finally:
        signal.signal(signal.SIGTERM, before)


async def test_all_streams_of_a_process_share_one_poller(cast):
    async with stream_of(cast, "artist") as one, stream_of(cast, "editor") as two, stream_of(cast, "reader") as three:
        for stream in (one, two, three):
            await stream.next_text()
        polls = [task for task in asyncio.all_tasks() if "Poller._poll" in repr(task.get_coro())]
        assert len(polls) == 1
        await pin(cast, "For all.")
        heard = [(await stream.changes(1))[0]["kind"] for stream in (one, two, three)]
    assert heard == ["note-pinned"] * 3


async def test_a_reader_who_comes_as_the_last_one_goes_is_told_too(cast):
    poller = poller_of_this_loop()
    async with poller.watching(cast.board.pk):
        await asyncio.sleep(0)
    async with poller.watching(cast.board.pk) as board:
        assert await board.moved_past(0, 5)


async def test_who_hangs_up_is_no_longer_waited_for(cast):
    client = AsyncClient()
    await client.aforce_login(cast.artist)
    headers = [(b"host", b"testserver"), (b"accept", b"text/event-stream")]
    cookie = client.cookies["sessionid"].value.encode()
    scope = {
        "type": "http", "method": "GET", "path": f"/api/v1/boards/{cast.board.pk}/events", "query_string": b"",
        "headers": [*headers, (b"cookie", b"sessionid=" + cookie)],
    }
    browser = ApplicationCommunicator(application, scope)
    await browser.send_input({"type": "http.request"})
    assert (await browser.receive_output(5))["status"] == 200
    assert (await browser.receive_output(5))["body"] == b"retry: 3000\n\n"
    assert poller_of_this_loop().readers_of(cast.board.pk) == 1
    await browser.send_input({"type": "http.disconnect"})
    await browser.wait(5)
    assert poller_of_this_loop().readers_of(cast.board.pk) == 0


async def test_an_outsider_gets_a_problem_and_no_stream(cast):
    client = AsyncClient()
    await client.aforce_login(cast.outsider)
    answer = await client.get(f"/api/v1/boards/{cast.board.pk}/events", headers={"Accept": "text/event-stream"})
    assert (answer.status_code, answer["Content-Type"]) == (404, "application/problem+json")
