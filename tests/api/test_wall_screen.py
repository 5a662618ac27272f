"""The Wall and Read as they come, before their scripts read the pages."""

import re

from board.actions.notes import send_held_notes


def wall_of(client, world) -> str:
    return client.get(f"/boards/{world.cast.board.pk}").content.decode()


def test_who_holds_notes_is_reminded_of_them_and_nobody_else(world, client_of):
    assert "You hold 2 notes: " in wall_of(client_of("editor"), world)
    assert all("You hold" not in wall_of(client_of(name), world) for name in ("artist", "owner", "reader"))
    send_held_notes(seat=world.cast.seat("editor"), notes=[world.artists.held.pk])
    assert "You hold 1 note: " in wall_of(client_of("editor"), world)
    send_held_notes(seat=world.cast.seat("editor"))
    assert "You hold" not in wall_of(client_of("editor"), world)


def test_read_has_a_way_back_where_nothing_can_be_turned(cast, client_of):
    """Its masthead stays away, and a finger has no Esc."""
    cast.board.pages.all().delete()
    screen = client_of("reader").get(f"/boards/{cast.board.pk}/read").content.decode()
    assert re.search(rf'id="foot"><a [^>]*href="/boards/{cast.board.pk}"[^>]*>Back to the Wall</a>', screen)
