"""The boards that one has a seat on: what is told and shown of each is what one may see of it."""

import re

from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from board.access import access_board
from board.actions.boards import create_board
from board.actions.notes import pin_note
from board.actions.pages import add_page
from board.models import Board, Page, Panel
from tests.api.class_world import AUTHOR
from tests.api.world import ready_revision

COVER = re.compile(r'/api/v1/revisions/(\d+)/renditions/400"')


def screen_of(client) -> str:
    answer = client.get("/boards")
    assert answer.status_code == 200
    return answer.content.decode()


def covers_on(client) -> list[int]:
    return [int(pk) for pk in COVER.findall(screen_of(client))]


def test_a_board_shows_how_it_begins(cast, client_of):
    seat = cast.seat("owner")
    drawn = [ready_revision(cast, page, shade=90 + 20 * i).pk
             for i, page in enumerate(reversed([cast.page, *(add_page(seat=seat, number=n) for n in (3, 4, 5, 6, 7))]))]
    # Page 2 is not drawn yet, and the sixth and seventh are not among the first.
    assert covers_on(client_of("editor")) == drawn[:1:-1]


def test_a_student_sees_no_page_of_others(cast, client_of):
    own = ready_revision(cast, cast.own_page, "student", shade=120)
    ready_revision(cast, cast.page)
    pin_note(seat=cast.seat("editor"), page=cast.page, body="Lower.", tone="try")
    assert covers_on(client_of("student")) == [own.pk]
    tally = re.sub(r"<[^>]+>|\s+", " ", screen_of(client_of("student")))
    assert re.search(r"You are a student here\. +1 +page +0 +finished +0 +handed in +0 +open notes", tally)


def test_what_is_to_be_kept_is_no_open_note(cast, client_of):
    for tone in ("keep", "ask"):
        pin_note(seat=cast.seat("editor"), page=cast.page, body="Like this.", tone=tone)
    tally = re.sub(r"<[^>]+>|\s+", " ", screen_of(client_of("artist")))
    assert re.search(r" 1 +open note ", tally)


def test_seats_are_told_in_words(cast, client_of):
    assert "You are an artist and an editor here." in screen_of(client_of("owner"))
    assert "No board yet" in screen_of(client_of("outsider"))


def test_what_waits_for_somebody_and_what_is_new_is_told(cast, client_of):
    def told(name: str) -> str:
        return " ".join(re.sub(r"<[^>]+>", " ", screen_of(client_of(name))).split())

    def waiting(*names: str) -> list[list[str]]:
        return [re.findall(r"(\d+) waits? for you", told(name)) for name in names]

    def look(name: str) -> None:
        so_far = Board.objects.get(pk=cast.board.pk).events_so_far
        client_of(name).put(f"/api/v1/boards/{cast.board.pk}/last-look", {"event": so_far})

    # Page 1 is the artist's and page 2 the student's; nobody is told of news before a first look.
    assert waiting("artist", "student", "editor", "reader") == [["1"], ["1"], [], []]
    add_page(seat=cast.seat("owner"), number=3)
    # Page 3 is nobody's yet: an artist's, who answers for the comic with the editors, and not a student's.
    assert waiting("artist", "student", "reader") == [["2"], ["1"], []]
    Page.objects.filter(pk=cast.page.pk).update(handed_in_at=timezone.now())
    assert waiting("artist", "editor") == [["1"], ["1"]]
    # A panel that was sent back waits on its own: for who draws it, and handed in for a reviewer.
    panel = Panel.objects.create(page=cast.own_page, order=1, sent_back_to="thumbnail", handed_in_at=timezone.now())
    assert waiting("student", "editor") == [["1"], ["2"]]
    Page.objects.filter(pk=cast.own_page.pk).update(finished_at=timezone.now())
    assert waiting("student", "editor") == [[], ["2"]]
    Panel.objects.filter(pk=panel.pk).update(handed_in_at=None)
    assert waiting("student", "editor") == [["1"], ["1"]]
    assert f'href="/boards/{cast.board.pk}?waits=me"' in screen_of(client_of("editor"))
    for name in ("artist", "student"):
        look(name)
    for body in ("Lower.", "Wider."):
        pin_note(seat=cast.seat("editor"), page=cast.page, body=body, tone="try")
    pin_note(seat=cast.seat("editor"), page=cast.own_page, body="Not yet.", tone="try", is_held=True)
    assert [re.findall(r"(\d+) with something new", told(name)) for name in ("artist", "student", "reader")] == [["1"], [], []]
    look("artist")
    assert "something new" not in told("artist")


def test_many_boards_cost_as_many_queries_as_one(cast, client_of, django_assert_num_queries):
    client = client_of("owner")
    ready_revision(cast, cast.page)
    screen_of(client)
    with CaptureQueriesContext(connection) as of_one:
        screen_of(client)
    for i in range(5):
        board = create_board(user=cast.owner, title=f"Another {i}")
        add_page(seat=access_board(cast.owner, board.pk), number=1)
    with django_assert_num_queries(len(of_one)):
        assert screen_of(client).count('class="board-row"') == 6


def test_the_way_to_ones_class_is_there_without_a_board(in_class):
    path = f'href="/classes/{in_class.school_class.pk}"'
    assert path in screen_of(in_class.client(AUTHOR))
    assert path in screen_of(in_class.client("hollis"))
    assert path not in screen_of(in_class.client("nobody"))
