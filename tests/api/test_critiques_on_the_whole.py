"""What a classmate said of a work as a whole stands where its artist works: on its one page, or on the board."""

from board.actions.critiques import deliver_round
from board.models import Critique, Note
from tests.api.class_world import AUTHOR, CRITIC, POINTS

API = "/api/v1"


def delivered(in_class) -> Note:
    deliver_round(opened=in_class.round)
    return Note.objects.get(board=in_class.works[AUTHOR].board, body=POINTS[0]["body"])


def test_of_a_work_of_one_page_it_stands_on_that_page(in_class):
    note = delivered(in_class)
    page = in_class.works[AUTHOR].board.pages.get()
    assert (note.scope, note.page_id, note.region) == ("page", page.pk, None)
    shown = in_class.client(AUTHOR).get(f"{API}/pages/{page.pk}").json()
    assert shown["open_notes"]["keep"] == 1


def test_of_a_work_of_several_pages_it_stands_on_the_board_and_can_be_dealt_with_there(in_class):
    (shown,) = in_class.critique.pages
    Critique.objects.filter(pk=in_class.critique.pk).update(pages=[shown, {**shown, "page": 2}])
    note = delivered(in_class)
    assert (note.scope, note.page_id) == ("board", None)
    client, notes = in_class.client(AUTHOR), f"{API}/boards/{note.board_id}/notes"
    (row,) = client.get(f"{notes}?scope=board").json()["results"]
    assert row["id"] == note.pk and row["may"]["answer"] and row["may"]["let_stand"] and row["author"] is None
    let = client.put(f"{API}/notes/{note.pk}/stet", HTTP_IF_MATCH=f'"{row["version"]}"')
    assert (let.status_code, let.json()["state"]) == (200, "stet")
    assert in_class.client(CRITIC).get(f"{API}/notes/{note.pk}").status_code == 404
