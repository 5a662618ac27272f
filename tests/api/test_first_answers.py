"""A Desk's page carries what its script would ask first: what the API answers that person, and nothing that ends the page early."""

import json
import re

import pytest
from asgiref.sync import sync_to_async
from django.db import connection
from django.test import AsyncClient
from django.test.utils import CaptureQueriesContext

from board.actions.notes import pin_note
from tests.api.world import World

BLOCK = re.compile(r'<script type="application/json" data-answer="([^"]+)">(.*?)</script>', re.DOTALL)
HARMFUL = "Here </script><script>alert(1)</script> & <!-- there"


def carried(client, page) -> dict[str, dict]:
    html = client.get(f"/pages/{page.pk}").content.decode()
    return {path.replace("&amp;", "&"): json.loads(answer) for path, answer in BLOCK.findall(html)}


@pytest.mark.parametrize("name", ["owner", "editor", "reader"])
def test_each_answer_is_the_one_that_the_api_gives_this_person(world: World, client_of, name):
    page = world.cast.page
    for held in (False, True):
        pin_note(seat=world.cast.seat("editor"), page=page, body="Here.", tone="try", is_held=held)
    client = client_of(name)
    answers = carried(client, page)
    parts = ("", "/panels?limit=500", "/revisions-in-brief?limit=500", "/notes?limit=500")
    assert [f"/api/v1/pages/{page.pk}{part}" for part in parts] == list(answers)[:4]
    assert answers == {path: client.get(path).json() for path in answers}
    states = {note["state"] for note in answers[f"/api/v1/pages/{page.pk}/notes?limit=500"]["results"]}
    assert ("held" in states) == (name == "editor")


def test_words_that_look_like_markup_end_no_block(world: World, client_of):
    page = world.cast.page
    pin_note(seat=world.cast.seat("editor"), page=page, body=HARMFUL, tone="try")
    assert HARMFUL not in client_of("owner").get(f"/pages/{page.pk}").content.decode()
    notes = carried(client_of("owner"), page)[f"/api/v1/pages/{page.pk}/notes?limit=500"]["results"]
    assert HARMFUL in [note["body"] for note in notes]


def test_what_several_answers_need_is_read_once(world: World, client_of):
    client, page = client_of("owner"), world.cast.page
    with CaptureQueriesContext(connection) as asked:
        assert len(carried(client, page)) >= 4
    seats = [query["sql"] for query in asked if 'FROM "board_member"' in query["sql"]]
    assert len(seats) == 2  # the screen's own, and one for all answers
    with CaptureQueriesContext(connection) as asked:
        for _ in range(2):
            client.get(f"/api/v1/pages/{page.pk}")
    assert len([query for query in asked if 'FROM "board_member"' in query["sql"]]) == 2  # nothing is kept from request to request


def test_who_may_not_see_the_page_gets_none_of_it(world: World, client_of):
    answer = client_of("outsider").get(f"/pages/{world.cast.page.pk}")
    assert answer.status_code == 404 and b"data-answer" not in answer.content


@pytest.mark.django_db(transaction=True)
async def test_served_for_real_the_page_comes_before_its_answers(cast):
    client = AsyncClient()
    await sync_to_async(client.force_login)(cast.owner)
    answer = await client.get(f"/pages/{cast.page.pk}")
    parts = [part.decode() async for part in answer.streaming_content]
    assert 'id="picture"' in parts[0] and BLOCK.search(parts[0]) is None and parts[-1].rstrip().endswith("</html>")
    assert len(BLOCK.findall("".join(parts))) == len(parts) - 2
