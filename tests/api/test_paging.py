"""Collections come in pages that neither repeat nor skip what arrives meanwhile."""

from base64 import b64encode

import pytest

from board.actions.boards import create_board
from board.actions.notes import pin_note
from board.actions.pages import add_page
from tests.api.world import World, ready_revision
from tests.kept_rows import KeptRows


def bodies(answer) -> list[str]:
    return [row["body"] for row in answer.json()["results"]]


def test_pages_of_a_collection_lead_on_and_back(cast, client_of):
    for n in range(5):
        pin_note(seat=cast.seat("editor"), body=f"Note {n}.", tone="try")
    client = client_of("artist")
    first = client.get(f"/api/v1/boards/{cast.board.pk}/notes?limit=2")
    assert bodies(first) == ["Note 0.", "Note 1."] and first.json()["previous"] is None
    second = client.get(first.json()["next"])
    assert bodies(second) == ["Note 2.", "Note 3."]
    third = client.get(second.json()["next"])
    assert bodies(third) == ["Note 4."] and third.json()["next"] is None
    assert bodies(client.get(third.json()["previous"])) == ["Note 2.", "Note 3."]


def test_a_page_that_comes_in_between_neither_repeats_nor_skips_another(cast, client_of):
    for number in (10, 20, 30):
        add_page(seat=cast.seat("owner"), number=number)
    client = client_of("owner")
    first = client.get(f"/api/v1/boards/{cast.board.pk}/pages?limit=3").json()
    add_page(seat=cast.seat("owner"), number=5)
    rest = client.get(first["next"]).json()["results"]
    assert [row["number"] for row in first["results"] + rest] == [1, 2, 10, 20, 30]


def test_links_are_paths_and_keep_the_filters(cast, client_of):
    for n in range(3):
        pin_note(seat=cast.seat("editor"), body=f"Note {n}.", tone="ask")
    link = client_of("artist").get(f"/api/v1/boards/{cast.board.pk}/notes?limit=1&tone=ask").json()["next"]
    assert link.startswith(f"/api/v1/boards/{cast.board.pk}/notes?") and "tone=ask" in link


def of_place(place: str) -> str:
    return b64encode(place.encode()).decode()


@pytest.mark.parametrize("cursor", ["nonsense", "", "AAAA", of_place("p=abc"), of_place("o=-1"), of_place("o=2&x=1")])
def test_a_cursor_that_is_none_is_refused(cast, client_of, cursor):
    answer = client_of("artist").get(f"/api/v1/boards/{cast.board.pk}/notes", {"cursor": cursor})
    assert (answer.status_code, list(answer.json()["errors"])) == (400, ["cursor"])


@pytest.mark.parametrize("path", ["boards", "boards/{board}/events"])
@pytest.mark.parametrize("limit", ["abc", "0", "-3", "100000", "1.5", "", "٣", "1" * 5000])
def test_a_limit_that_is_no_number_of_rows_is_refused(cast, client_of, path, limit):
    answer = client_of("artist").get("/api/v1/" + path.format(board=cast.board.pk), {"limit": limit})
    assert answer.status_code == 400
    assert answer.json()["errors"] == {"limit": ["This is a whole number from 1 to 500."]}


def make_many(world: World) -> World:
    """Forty boards; twenty pages more, each with a note; twenty revisions of one page."""
    cast = world.cast
    for n in range(40):
        create_board(user=cast.owner, title=f"Comic {n}")
    for number in range(10, 30):
        page = add_page(seat=cast.seat("owner"), number=number)
        ready_revision(cast, page, shade=number)
        pin_note(seat=cast.seat("editor"), page=page, body="Here.", tone="try", region={"point": [0.5, 0.5]})
        ready_revision(cast, cast.page, shade=100 + number)
    return world


MANY = KeptRows(make_many)


@pytest.fixture
def many(world):
    return MANY.stand(world)


@pytest.mark.parametrize(
    ("path", "rows", "most"),
    [("boards", 41, 8), ("boards/{board}/notes", 23, 16), ("boards/{board}/pages", 22, 14), ("pages/{page}/revisions", 21, 12),
     ("pages/{page}/revisions-in-brief", 21, 8),
     ("pages/{page}/panels", 1, 14), ("boards/{board}/jobs", 20, 8), ("boards/{board}/events", 20, 8),
     ("boards/{board}/members", 6, 6), ("boards/{board}/references", 1, 8), ("boards/{board}/sheets", 1, 8)],
)
def test_many_rows_cost_no_more_queries(many, client_of, django_assert_max_num_queries, path, rows, most):
    url = "/api/v1/" + path.format(board=many.cast.board.pk, page=many.cast.page.pk)
    client = client_of("owner")
    with django_assert_max_num_queries(most):
        answer = client.get(url + "?limit=500")
    assert len(answer.json()["results"]) >= rows
