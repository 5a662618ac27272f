"""A page taken out of the comic: kept whole, out of the way, and brought back where it was."""

import pytest

from board.actions.notes import pin_note
from board.actions.page_order import lay_aside
from board.actions.pages import add_page
from board.actions.revisions import receive_revision
from board.models import Board, Event, Job, Page
from tests.pictures import upload


@pytest.fixture
def pages(cast) -> dict[int, Page]:
    """1, 2, a spread 3-4, and 5."""
    for number in (3, 5):
        add_page(seat=cast.seat("owner"), number=number, is_spread=number == 3)
    return {page.number: page for page in Page.objects.filter(board=cast.board)}


def order(pages) -> list[tuple[int, int]]:
    """(number before, number now) of the pages in the comic."""
    before = {page.pk: number for number, page in pages.items()}
    return [(before.get(page.pk, 0), page.number) for page in Page.objects.in_comic().order_by("number")]


def aside(client, page: Page) -> int:
    return client.put(f"/api/v1/pages/{page.pk}/laid-aside", headers={"If-Match": "*"}).status_code


def back(client, page: Page):
    return client.delete(f"/api/v1/pages/{page.pk}/laid-aside", headers={"If-Match": "*"})


def test_those_after_it_move_up_and_make_room_again(pages, client_of):
    client = client_of("editor")
    assert aside(client, pages[2]) == 200
    assert order(pages) == [(1, 1), (3, 2), (5, 4)]
    assert back(client, pages[2]).json()["number"] == 2
    assert order(pages) == [(1, 1), (2, 2), (3, 3), (5, 5)]
    assert list(Event.objects.filter(kind__startswith="page-").exclude(kind="page-added").values_list("kind", "page")) == [
        ("page-laid-aside", pages[2].pk), ("page-brought-back", pages[2].pk)]


def test_a_spread_takes_two_numbers_along_both_ways(pages, client_of):
    assert aside(client_of("editor"), pages[3]) == 200
    assert order(pages) == [(1, 1), (2, 2), (5, 3)]
    assert back(client_of("editor"), pages[3]).json()["numbers"] == [3, 4]
    assert order(pages) == [(1, 1), (2, 2), (3, 3), (5, 5)]


def test_where_a_spread_lies_over_its_place_it_comes_before_that(pages, client_of):
    client = client_of("editor")
    for number in (2, 1):
        aside(client, pages[number])
    assert order(pages) == [(3, 1), (5, 3)]
    back(client, pages[2])  # page 2 would part the picture of 1 and 2
    assert order(pages) == [(2, 1), (3, 2), (5, 4)]


def test_where_the_comic_grew_shorter_it_comes_at_the_end(pages, client_of):
    client = client_of("editor")
    for number in (5, 3):
        aside(client, pages[number])
    assert back(client, pages[5]).json()["number"] == 3


def test_twice_is_once_and_an_older_state_is_refused(pages, client_of):
    client = client_of("editor")
    assert [aside(client, pages[2]), aside(client, pages[2])] == [200, 200]
    assert order(pages) == [(1, 1), (3, 2), (5, 4)]
    stale = client.delete(f"/api/v1/pages/{pages[2].pk}/laid-aside", headers={"If-Match": f'"{pages[2].version}"'})
    assert stale.status_code == 412


def test_it_keeps_its_notes_and_leaves_the_lists(cast, pages, client_of):
    note = pin_note(seat=cast.seat("editor"), page=pages[2], body="Cut this?", tone="must", is_held=False)
    client, board = client_of("editor"), f"/api/v1/boards/{cast.board.pk}"
    aside(client, pages[2])
    assert pages[2].pk not in [one["id"] for one in client.get(f"{board}/pages").json()["results"]]
    assert [one["id"] for one in client.get(f"{board}/laid-aside-pages").json()["results"]] == [pages[2].pk]
    assert note.pk not in [one["id"] for one in client.get(f"{board}/notes").json()["results"]]
    assert [one["id"] for one in client.get(f"/api/v1/pages/{pages[2].pk}/notes").json()["results"]] == [note.pk]
    counts = client.get(board).json()
    assert (counts["pages_count"], counts["open_notes_count"]) == (3, 0)
    assert "Cut this?" not in client.get(f"/boards/{cast.board.pk}/to-do").content.decode()
    assert client.get(f"/pages/{pages[2].pk}").status_code == 200


def test_nothing_is_drawn_on_it_nor_moved_until_it_is_back(pages, client_of):
    client = client_of("artist")
    aside(client, pages[1])
    sent = client.post(f"/api/v1/pages/{pages[1].pk}/revisions", {"stage": "pencil", "image": upload()}, format="multipart")
    moved = client.put(f"/api/v1/pages/{pages[1].pk}/place", {"before": None}, headers={"If-Match": "*"})
    before = client.put(f"/api/v1/pages/{pages[3].pk}/place", {"before": pages[1].pk}, headers={"If-Match": "*"})
    handed_in = client.post(f"/api/v1/pages/{pages[1].pk}/stage-moves", {"move": "hand-in"}, headers={"If-Match": "*"})
    assert [one.status_code for one in (sent, moved, before, handed_in)] == [409, 409, 400, 409]
    assert "laid aside" in sent.json()["detail"] and "laid aside" in handed_in.json()["detail"]


def test_its_number_is_free_for_another(cast, pages, client_of):
    aside(client_of("editor"), pages[5])
    assert client_of("editor").post(f"/api/v1/boards/{cast.board.pk}/pages", {"number": 5}).status_code == 201
    assert back(client_of("editor"), pages[5]).json()["number"] == 5
    assert order(pages)[-2:] == [(5, 5), (0, 6)]


def test_brought_back_it_is_measured_again(cast, pages, client_of):
    revision = receive_revision(seat=cast.seat("artist"), page=pages[1], file=upload(), stage="pencil")
    type(revision).objects.filter(pk=revision.pk).update(state="ready")
    aside(client_of("editor"), pages[1])
    Job.objects.all().delete()
    back(client_of("editor"), pages[1])
    assert Job.objects.filter(revision=revision, kind="check").exists()


def test_the_pages_of_an_assignment_stay(cast, pages, client_of):
    Board.objects.update(is_assigned=True)
    assert aside(client_of("editor"), pages[2]) == 409


def test_a_student_sees_their_own_one_there(cast, pages, client_of):
    lay_aside(seat=cast.seat("editor"), page=pages[1], expected_version=None)
    lay_aside(seat=cast.seat("editor"), page=pages[2], expected_version=None)  # drawn by the student
    mine = client_of("student").get(f"/api/v1/boards/{cast.board.pk}/laid-aside-pages").json()["results"]
    assert [one["id"] for one in mine] == [pages[2].pk]
    assert client_of("student").get(f"/api/v1/pages/{pages[2].pk}").status_code == 200


def test_what_one_holds_there_is_counted_for_its_holder_and_sent_by_name(cast, pages, client_of):
    held = pin_note(seat=cast.seat("editor"), page=pages[2], body="Wait.", tone="ask", scope="page", is_held=True)
    aside(client_of("owner"), pages[2])
    counted = {who: client_of(who).get(f"/api/v1/boards/{cast.board.pk}/laid-aside-pages").json()["results"][0]["held_notes"]
               for who in ("editor", "owner")}
    assert counted == {"editor": 1, "owner": 0}
    held_here = client_of("editor").get(f"/api/v1/pages/{pages[2].pk}/notes?state=held").json()["results"]
    assert [note["id"] for note in held_here] == [held.pk]
    sent = client_of("editor").post(f"/api/v1/boards/{cast.board.pk}/sendings", {"notes": [held.pk]}, format="json")
    assert sent.json() == {"sent": [held.pk]}
