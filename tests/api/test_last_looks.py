"""What is new on a page since somebody last looked: others' doings that they may see, until they look."""

from board.access import news_of, pages_with_news
from board.actions.notes import pin_note, send_held_notes
from board.actions.pages import add_page
from board.models import Board, Event
from tests.api.world import ready_revision


def look(client, path: str, event: int) -> None:
    assert client.put(f"/api/v1/{path}/last-look", {"event": event}, format="json").status_code == 200


def now(cast) -> int:
    return Board.objects.get(pk=cast.board.pk).events_so_far


def new_on(client, page) -> dict:
    return {name: n for name, n in client.get(f"/api/v1/pages/{page.pk}").json()["new"].items() if n}


def test_nothing_is_new_to_who_never_looked_nor_to_who_did_it(cast, client_of):
    pin_note(seat=cast.seat("editor"), page=cast.page, body="Lower.", tone="try")
    assert new_on(client_of("artist"), cast.page) == {}
    look(client_of("editor"), f"boards/{cast.board.pk}", 0)
    assert new_on(client_of("editor"), cast.page) == {}


def test_what_others_did_is_new_until_one_looks(cast, client_of):
    artist, editor = client_of("artist"), cast.seat("editor")
    look(artist, f"boards/{cast.board.pk}", now(cast))
    pin_note(seat=editor, page=cast.page, body="Lower.", tone="try")
    for body in ("One.", "Two."):
        pin_note(seat=editor, page=cast.page, body=body, tone="ask", is_held=True)
    assert new_on(artist, cast.page) == {"notes": 1}  # what is held is told to nobody
    send_held_notes(seat=editor)
    assert new_on(artist, cast.page) == {"notes": 3}
    ready_revision(cast, cast.page, "owner")
    assert new_on(artist, cast.page) == {"notes": 3, "pictures": 1}
    look(artist, f"boards/{cast.board.pk}", now(cast))
    assert new_on(artist, cast.page) == {}


def test_a_look_at_one_page_leaves_the_others_new(cast, client_of):
    artist, other = client_of("artist"), cast.own_page
    look(artist, f"boards/{cast.board.pk}", now(cast))
    for page in (cast.page, other):
        pin_note(seat=cast.seat("editor"), page=page, body="Lower.", tone="try")
    look(artist, f"pages/{cast.page.pk}", now(cast))
    assert (new_on(artist, cast.page), new_on(artist, other)) == ({}, {"notes": 1})


def test_a_look_back_takes_nothing_back_and_none_goes_ahead(cast, client_of):
    artist, path = client_of("artist"), f"boards/{cast.board.pk}"
    look(artist, path, now(cast) + 50)
    pin_note(seat=cast.seat("editor"), page=cast.page, body="Lower.", tone="try")
    assert new_on(artist, cast.page) == {"notes": 1}
    look(artist, path, now(cast))
    look(artist, path, 1)
    assert new_on(artist, cast.page) == {}


def test_300_pages_cost_as_many_queries_as_three(world, client_of, django_assert_num_queries):
    client, url = client_of("owner"), f"/api/v1/boards/{world.cast.board.pk}/pages?limit=500"
    look(client, f"boards/{world.cast.board.pk}", now(world.cast))
    with django_assert_num_queries(14):
        client.get(url)
    for number in range(10, 308):
        page = add_page(seat=world.cast.seat("editor"), number=number)
        if number % 10 == 0:
            pin_note(seat=world.cast.seat("editor"), page=page, body="Lower.", tone="try")
    with django_assert_num_queries(14):
        rows = client.get(url).json()["results"]
    assert (len(rows), sum(row["new"]["notes"] for row in rows)) == (300, 30)


def test_what_is_new_is_counted_without_reading_its_events(cast, client_of, monkeypatch):
    artist, seat, editor = client_of("artist"), cast.seat("artist"), cast.seat("editor")
    look(artist, f"boards/{cast.board.pk}", now(cast))
    for page in (cast.page, cast.own_page):
        pin_note(seat=editor, page=page, body="Lower.", tone="try")
    look(artist, f"pages/{cast.own_page.pk}", now(cast))
    for body in ("One.", "Two."):
        pin_note(seat=editor, page=cast.page, body=body, tone="ask", is_held=True)
    send_held_notes(seat=editor)
    monkeypatch.setattr(Event, "from_db", None)
    assert news_of(seat, [cast.page.pk, cast.own_page.pk]) == {(cast.page.pk, "notes"): 3}
    assert pages_with_news(seat.user, [seat]) == {cast.board.pk: 1}
