from io import BytesIO

import pytest

from board.actions.intake import mark_refused
from board.actions.notes import pin_note
from board.actions.panels import record_panels
from board.actions.revisions import receive_revision
from tests.api.world import SQUARE, ready_revision
from tests.pictures import png

BOX = {"polygon": [[0.2, 0.2], [0.4, 0.2], [0.4, 0.4], [0.2, 0.4]]}


def notes_of(page) -> str:
    return f"/api/v1/pages/{page.pk}/notes"


def test_a_note_is_pinned_on_a_region_and_knows_its_panel(world, client_of):
    row = client_of("editor").post(notes_of(world.cast.page), {"region": BOX, "tone": "must", "body": "Door on the left."}).json()
    assert (row["state"], row["source"], row["panel"]) == ("open", "person", world.artists.panel.pk)
    assert row["here"]["placed_by"] == "pinned"
    assert row["may"] == {"edit": True, "answer": True, "settle": True, "let_stand": True}


def test_a_note_keeps_its_place_when_the_upload_that_came_before_it_is_refused(world, client_of):
    artist, page = world.cast.seat("artist"), world.cast.page
    on_its_way = receive_revision(seat=artist, page=page, file=BytesIO(png(shade=50)), stage="thumbnail", file_name="page.png")
    row = client_of("editor").post(notes_of(page), {"region": BOX, "tone": "must", "body": "Door on the left."}).json()
    assert (row["revision"], row["panel"]) == (world.artists.revision.pk, world.artists.panel.pk)
    mark_refused(uploaded=on_its_way, reason="It is no picture.")
    assert client_of("editor").get(f"/api/v1/notes/{row['id']}").json()["here"]["placed_by"] == "pinned"


def test_a_note_is_pinned_on_a_picture_that_is_on_its_way_where_no_other_is(cast, client_of):
    artist = cast.seat("artist")
    first = receive_revision(seat=artist, page=cast.page, file=BytesIO(png()), stage="thumbnail", file_name="page.png")
    row = client_of("editor").post(notes_of(cast.page), {"region": BOX, "tone": "must", "body": "Door on the left."}).json()
    assert row["revision"] == first.pk


def test_a_note_that_is_pinned_before_the_panels_are_found_is_on_its_panel_once_they_are(cast, client_of):
    revision, editor = ready_revision(cast, cast.page), client_of("editor")
    new = [{"region": at, "tone": "must", "body": "Door on the left."} for at in (BOX, {"point": [0.01, 0.01]})]
    rows = [editor.post(notes_of(cast.page), one).json() for one in new]
    assert [row["panel"] for row in rows] == [None, None]
    (shape,) = record_panels(revision=revision, found=[{"polygon": SQUARE, "framed": True}])
    assert [editor.get(f"/api/v1/notes/{row['id']}").json()["panel"] for row in rows] == [shape.panel_id, None]


def test_a_reader_writes_nothing_and_an_outsider_sees_nothing(world, client_of):
    body = {"region": BOX, "tone": "try", "body": "Hm."}
    assert client_of("reader").post(notes_of(world.cast.page), body).status_code == 403
    assert client_of("outsider").post(notes_of(world.cast.page), body).status_code == 404


@pytest.mark.parametrize(
    "change",
    [{"tone": "shout"}, {"body": ""}, {"region": {"polygon": [[0, 0], [1, 1]]}}, {"region": {"point": [3, 3]}},
     {"region": {"circle": 1}}, {"region": None, "scope": "region"}, {"region": {"point": ["a", 0]}}],
)
def test_a_note_that_makes_no_sense_is_refused(world, client_of, change):
    body = {"region": BOX, "tone": "try", "body": "Hm."} | change
    if body["region"] is None:
        del body["region"]
    assert client_of("editor").post(notes_of(world.cast.page), body).status_code == 400


@pytest.mark.parametrize("scope", ["page", "spread"])
def test_a_note_on_the_page_or_the_spread_has_no_region(world, client_of, scope):
    row = client_of("editor").post(notes_of(world.cast.page), {"scope": scope, "tone": "ask", "body": "Night or dusk?"}).json()
    assert (row["scope"], row["region"], row["here"]) == (scope, None, None)


def test_a_note_on_the_board_belongs_to_no_page(world, client_of):
    url = f"/api/v1/boards/{world.cast.board.pk}/notes"
    row = client_of("editor").post(url, {"tone": "keep", "body": "The light."}).json()
    assert (row["scope"], row["page"]) == ("board", None)


def test_held_notes_are_their_writers_alone_until_they_are_sent_together(world, client_of):
    url = notes_of(world.cast.page)
    held = client_of("editor").post(url, {"region": BOX, "tone": "try", "body": "Wait.", "held": True}).json()
    assert held["state"] == "held"
    assert client_of("artist").get(f"/api/v1/notes/{held['id']}").status_code == 404
    sent = client_of("editor").post(f"/api/v1/boards/{world.cast.board.pk}/sendings", {}).json()["sent"]
    assert held["id"] in sent and len(sent) >= 2
    assert client_of("artist").get(f"/api/v1/notes/{held['id']}").json()["state"] == "open"


@pytest.mark.parametrize(
    ("query", "found"), [("state=held", ["Not sent yet."]), ("tone=ask", ["Not sent yet."]), ("state=open", ["The hand floats."]),
                         ("source=measured", []), ("state=open,held", ["The hand floats.", "Not sent yet."])],
)
def test_notes_are_filtered(world, client_of, query, found):
    rows = client_of("editor").get(f"{notes_of(world.cast.page)}?{query}").json()["results"]
    assert [row["body"] for row in rows] == found


def test_a_note_is_changed_by_its_writer_only(world, client_of):
    url = f"/api/v1/notes/{world.artists.note.pk}"
    etag = client_of("editor").get(url)["ETag"]
    assert client_of("owner").patch(url, {"body": "Mine now."}, HTTP_IF_MATCH=etag).status_code == 403
    assert client_of("editor").patch(url, {"body": "The hand still floats."}, HTTP_IF_MATCH=etag).json()["version"] == 2


def test_only_a_held_note_can_be_dropped(world, client_of):
    for note, status in ((world.artists.held, 204), (world.artists.note, 409)):
        url = f"/api/v1/notes/{note.pk}"
        assert client_of("editor").delete(url, HTTP_IF_MATCH=client_of("editor").get(url)["ETag"]).status_code == status


def test_answer_settlement_and_stet_are_given_and_taken_back(world, client_of):
    url = f"/api/v1/notes/{world.artists.note.pk}"

    def put(name: str, noun: str, method: str = "put"):
        return getattr(client_of(name), method)(f"{url}/{noun}", HTTP_IF_MATCH=client_of("editor").get(url)["ETag"])

    assert put("artist", "answer").json()["state"] == "answered"
    assert put("artist", "settlement").status_code == 403
    assert put("editor", "settlement").json()["state"] == "settled"
    assert put("editor", "settlement", "delete").json()["state"] == "open"
    assert put("artist", "stet").status_code == 403
    assert put("editor", "stet").json()["state"] == "stet"


def test_replies_are_read_by_all_and_written_by_those_who_write(world, client_of):
    url = f"/api/v1/notes/{world.artists.note.pk}/replies"
    assert client_of("artist").post(url, {"body": "Fixed."}).status_code == 201
    assert client_of("reader").post(url, {"body": "Hm."}).status_code == 403
    assert [row["body"] for row in client_of("reader").get(url).json()["results"]] == ["Fixed."]


def test_many_notes_cost_no_more_queries(world, client_of, django_assert_max_num_queries):
    for n in range(50):
        pin_note(seat=world.cast.seat("editor"), page=world.cast.page, body=f"Note {n}.", tone="try", region={"point": [0.5, 0.5]})
    client = client_of("artist")
    with django_assert_max_num_queries(16):
        assert len(client.get(notes_of(world.cast.page) + "?limit=200").json()["results"]) == 51


LINES = [{"kind": "arrow", "points": [[0.2, 0.2], [0.4, 0.3]]},
         {"kind": "stroke", "points": [[0.2, 0.3], [0.3, 0.4]], "pressures": [0.2, 0.9]}]


def test_a_note_draws_lines_and_stands_around_them_where_it_names_no_region(world, client_of):
    editor, page = client_of("editor"), notes_of(world.cast.page)
    row = editor.post(page, {"lines": LINES, "tone": "try", "body": "Like this."}).json()
    assert (row["lines"], row["here"]["lines"], row["scope"]) == (LINES, LINES, "region")
    assert row["region"] == {"polygon": [[0.2, 0.2], [0.4, 0.2], [0.4, 0.4], [0.2, 0.4]]}
    assert client_of("reader").get(f"/api/v1/notes/{row['id']}").json()["lines"] == LINES
    fewer = editor.patch(f"/api/v1/notes/{row['id']}", {"lines": LINES[:1]}, HTTP_IF_MATCH=f'"{row["version"]}"').json()
    assert (fewer["lines"], fewer["region"]) == (LINES[:1], row["region"])


@pytest.mark.parametrize("lines", [[{"kind": "arrow", "points": [[0, 0]]}], {"kind": "arrow"}, [LINES[0]] * 61])
def test_lines_that_make_no_sense_are_refused(world, client_of, lines):
    answer = client_of("editor").post(notes_of(world.cast.page), {"lines": lines, "tone": "try", "body": "Hm."})
    assert (answer.status_code, list(answer.json()["errors"])) == (400, ["lines"])


def test_a_note_on_the_whole_page_draws_nothing(world, client_of):
    editor = client_of("editor")
    row = editor.post(notes_of(world.cast.page), {"tone": "ask", "body": "Night?"}).json()
    assert editor.patch(f"/api/v1/notes/{row['id']}", {"lines": LINES}, HTTP_IF_MATCH=f'"{row["version"]}"').status_code == 400
    body = {"scope": "page", "lines": LINES, "tone": "ask", "body": "Night?"}
    assert editor.post(notes_of(world.cast.page), body).status_code == 400
