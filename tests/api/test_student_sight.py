"""A student sees what is theirs and what was opened to students, wherever it is asked for."""

import pytest

from board.actions.pages import change_page
from tests.api.world import World


def results(client, url: str) -> list[dict]:
    return client.get(url).json()["results"]


@pytest.mark.parametrize("noun", ["pages", "notes", "jobs", "events"])
def test_collections_of_the_board_hold_the_own_page_only(world: World, client_of, noun):
    rows = results(client_of("student"), f"/api/v1/boards/{world.cast.board.pk}/{noun}")
    pages = {row["id" if noun == "pages" else "page"] for row in rows} - {None}
    assert pages == {world.cast.own_page.pk}


def test_counts_of_the_board_count_what_is_seen(world: World, client_of):
    board = f"/api/v1/boards/{world.cast.board.pk}"
    seen = [client_of(person).get(board).json() for person in ("student", "reader")]
    counts = [(row["pages_count"], row["open_notes_count"]) for row in seen]
    assert counts == [(1, 2), (2, 3)]  # the note on the board is everyone's


def test_a_page_that_is_opened_is_seen_with_all_that_is_on_it_and_not_worked_on(world: World, client_of):
    change_page(seat=world.cast.seat("instructor"), page=world.cast.page, expected_version=None, is_open_to_students=True)
    student, page = client_of("student"), f"/api/v1/pages/{world.cast.page.pk}"
    assert student.get(f"/api/v1/revisions/{world.artists.revision.pk}/file").status_code == 200
    assert [row["id"] for row in results(student, f"{page}/notes")] == [world.artists.note.pk]
    assert student.post(f"{page}/notes", {"tone": "try", "body": "What if it rained?"}).status_code == 201
    any_version = {"If-Match": "*"}
    assert student.patch(page, {"happens": "Mine now."}, headers=any_version).status_code == 403
    assert student.post(f"{page}/stage-moves", {"move": "hand-in"}, headers=any_version).status_code == 403
    assert student.put(f"/api/v1/revisions/{world.artists.revision.pk}/withdrawal").status_code == 403


def test_what_is_withdrawn_on_an_opened_page_is_not_shown_to_a_classmate(world: World, client_of):
    change_page(seat=world.cast.seat("instructor"), page=world.cast.page, expected_version=None, is_open_to_students=True)
    revision = f"/api/v1/revisions/{world.artists.revision.pk}"
    assert client_of("artist").put(f"{revision}/withdrawal").status_code == 200
    assert client_of("student").get(revision).status_code == 404


def test_a_student_says_neither_who_draws_nor_who_looks_on(world: World, client_of):
    page, any_version = f"/api/v1/pages/{world.cast.own_page.pk}", {"If-Match": "*"}
    for field in ({"is_open_to_students": True}, {"drawn_by": "artist"}):
        assert client_of("student").patch(page, field, headers=any_version).status_code == 403
    assert client_of("student").patch(page, {"said": "Oh!"}, headers=any_version).json()["said"] == "Oh!"
