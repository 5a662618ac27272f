"""Pages moved, put in between and renumbered."""

import pytest

from board.actions.cast import add_character
from board.actions.measuring import queue_ready_checks
from board.actions.model_sheets import add_model_sheet
from board.actions.pages import add_page
from board.actions.references import add_reference
from board.models import Event, Job, Page
from tests.api.world import ready_revision
from tests.pictures import upload


@pytest.fixture
def pages(cast):
    """1, 2, 3, a spread 4-5, 6, and 9: two are not here yet."""
    for number in (3, 4, 6, 9):
        add_page(seat=cast.seat("owner"), number=number, is_spread=number == 4)
    return {page.number: page for page in Page.objects.filter(board=cast.board)}


def order(cast, pages) -> list[tuple[int, int]]:
    """(number before, number now), in order."""
    before = {page.pk: number for number, page in pages.items()}
    return [(before.get(page.pk, 0), page.number) for page in Page.objects.filter(board=cast.board).order_by("number")]


def place(client, page, before) -> int:
    answer = client.put(
        f"/api/v1/pages/{page.pk}/place", {"before": before and before.pk}, format="json", headers={"If-Match": f'"{page.version}"'}
    )
    return answer.status_code


def test_a_page_moved_forward_lets_the_others_close_up(cast, pages, client_of):
    assert place(client_of("artist"), pages[2], pages[6]) == 200
    assert order(cast, pages) == [(1, 1), (3, 2), (4, 3), (2, 5), (6, 6), (9, 9)]
    assert Event.objects.filter(kind="pages-renumbered").count() == 1


def test_a_spread_moved_back_makes_room_for_two(cast, pages, client_of):
    assert place(client_of("editor"), pages[4], pages[2]) == 200
    assert order(cast, pages) == [(1, 1), (4, 2), (2, 4), (3, 5), (6, 6), (9, 9)]


def test_a_page_goes_to_the_end_and_the_gap_stays(cast, pages, client_of):
    assert place(client_of("editor"), pages[1], None) == 200
    assert order(cast, pages) == [(2, 1), (3, 2), (4, 3), (6, 5), (9, 8), (1, 9)]


def test_a_page_stays_where_it_is(cast, pages, client_of):
    assert place(client_of("editor"), pages[2], pages[3]) == 200
    assert [now for _, now in order(cast, pages)] == [1, 2, 3, 4, 6, 9]


def test_who_moved_it_first_wins(cast, pages, client_of):
    assert place(client_of("editor"), pages[2], pages[6]) == 200
    assert place(client_of("artist"), pages[2], pages[1]) == 412
    assert place(client_of("artist"), pages[3], None) == 412  # its number changed too


def test_a_page_of_another_board_is_no_place(cast, pages, client_of):
    assert place(client_of("editor"), pages[2], Page(pk=999)) == 400


def test_a_page_is_put_in_between(cast, pages, client_of):
    url = f"/api/v1/boards/{cast.board.pk}/pages"
    assert client_of("artist").post(url, {"number": 3}).status_code == 409
    assert client_of("artist").post(url, {"number": 3, "make_room": True}).json()["number"] == 3
    assert order(cast, pages) == [(1, 1), (2, 2), (0, 3), (3, 4), (4, 5), (6, 7), (9, 10)]
    assert client_of("artist").post(url, {"number": 6, "make_room": True}).status_code == 400  # inside the spread
    assert client_of("student").post(url, {"number": 1, "make_room": True}).status_code == 403


def test_where_there_is_a_gap_nothing_moves(cast, pages, client_of):
    url = f"/api/v1/boards/{cast.board.pk}/pages"
    assert client_of("artist").post(url, {"number": 7, "make_room": True}).status_code == 201
    assert order(cast, pages)[-2:] == [(0, 7), (9, 9)]
    assert client_of("artist").post(url, {"number": 8, "is_spread": True, "make_room": True}).status_code == 201
    assert order(cast, pages)[-2:] == [(0, 8), (9, 10)]


def renumber(client, cast, **body) -> int:
    answer = client.post(f"/api/v1/boards/{cast.board.pk}/renumberings", body, format="json")
    return answer.json()["pages"] if answer.status_code == 201 else answer.status_code


def test_numbers_move_on_from_a_page_and_model_sheets_with_them(cast, pages, client_of):
    seat = cast.seat("artist")
    reference = add_reference(seat=seat, file=upload(), title="Ines", kind="model-sheet")
    character = add_character(seat=seat, name="Ines", height_m=1.7)
    first, later = (add_model_sheet(seat=seat, character=character, reference=reference.pk, from_page=page) for page in (1, 6))
    assert renumber(client_of("editor"), cast, first=4, to=7) == 3
    assert order(cast, pages) == [(1, 1), (2, 2), (3, 3), (4, 7), (6, 9), (9, 12)]
    first.refresh_from_db()
    later.refresh_from_db()
    assert (first.from_page, later.from_page) == (1, 9)
    assert renumber(client_of("editor"), cast, first=7, to=3) == 400  # page 3 is there
    assert renumber(client_of("editor"), cast, first=7, to=4) == 3


def test_gaps_close(cast, pages, client_of):
    assert renumber(client_of("artist"), cast, close_gaps=True) == 1
    assert [now for _, now in order(cast, pages)] == [1, 2, 3, 4, 6, 7]
    assert renumber(client_of("artist"), cast, close_gaps=True) == 0
    assert renumber(client_of("artist"), cast, close_gaps=True, first=1, to=2) == 400
    assert renumber(client_of("artist"), cast, first=50, to=60) == 400


def test_a_high_number_is_refused(cast, pages, client_of):
    assert renumber(client_of("artist"), cast, first=1, to=9995) == 400
    assert [now for _, now in order(cast, pages)] == [1, 2, 3, 4, 6, 9]


def test_a_final_that_comes_to_lie_on_the_other_side_of_the_fold_is_asked_its_print_size_again(cast, pages, client_of):
    finals = {number: ready_revision(cast, pages[number], stage="final", shade=100 + number) for number in (2, 3)}
    for revision in finals.values():
        queue_ready_checks(revision=revision)
        Job.objects.filter(revision=revision, check_id="panels").update(state="done")
        queue_ready_checks(revision=revision)

    def bound_at(number):
        return Job.objects.get(revision=finals[number], check_id="print-size").inputs["bound_at"]

    assert (bound_at(2), bound_at(3)) == ("right", "left")
    pages[3].refresh_from_db()
    assert place(client_of("artist"), pages[3], pages[2]) == 200
    assert (bound_at(2), bound_at(3)) == ("left", "right")
    assert client_of("owner").patch(f"/api/v1/boards/{cast.board.pk}", {"is_bound": False}).status_code == 200
    assert (bound_at(2), bound_at(3)) == (None, None)
