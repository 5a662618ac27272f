"""What a classmate said stands where its artist works: of a spot on what is drawn there, of a whole work on its page or board."""

from io import BytesIO

from board.actions.critiques import deliver_round
from board.actions.intake import mark_revision_ready
from board.actions.revisions import receive_revision
from board.models import Critique, Job, Note
from tests.api.class_world import AUTHOR, CRITIC, POINTS
from tests.pictures import png

API = "/api/v1"


def delivered(in_class, words: str = POINTS[0]["body"]) -> Note:
    deliver_round(opened=in_class.round)
    return Note.objects.get(board=in_class.works[AUTHOR].board, body__startswith=words)


def draw_anew(in_class):
    seat, page = in_class.board_seat(AUTHOR), in_class.works[AUTHOR].board.pages.get()
    revision = receive_revision(seat=seat, page=page, file=BytesIO(png(shade=12)), stage="thumbnail")
    mark_revision_ready(revision=revision)
    return revision


def test_a_spot_goes_along_to_what_was_drawn_while_the_round_ran(in_class):
    later = draw_anew(in_class)
    note = delivered(in_class, POINTS[1]["body"])
    assert note.revision_id == in_class.hand_in.files[0]["revision"] != later.pk
    assert Job.objects.get(kind="carry-notes", revision=later).inputs["notes"] == {str(note.pk): POINTS[1]["region"]}


def test_points_stand_on_the_page_that_was_read_whatever_number_it_has_by_now(in_class):
    page = in_class.works[AUTHOR].board.pages.get()
    teacher = in_class.client("hollis")
    assert teacher.patch(f"{API}/pages/{page.pk}", {"number": 4}, headers={"If-Match": "*"}).status_code == 200
    deliver_round(opened=in_class.round)
    places = Note.objects.filter(critique=in_class.critique).order_by("pk").values_list("scope", "page", "revision__page")
    assert list(places) == [("page", page.pk, None), ("region", page.pk, page.pk)]


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
