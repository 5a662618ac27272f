"""Notes as W3C Web Annotations: valid against the model, whole, in pages, and no more than one may see."""

import re

import pytest

from board.actions.notes import pin_note, reply_to_note
from board.models import Finding, Job, Note
from tests.api.annotation_model import holds_annotation, holds_collection, holds_page

TYPE = 'application/ld+json; profile="http://www.w3.org/ns/anno.jsonld"'
TRIANGLE = {"polygon": [[0.1, 0.1], [0.5, 0.1], [0.3, 0.4]]}


@pytest.fixture
def editor(world, client_of):
    return client_of("editor")


def collection(world):
    return f"/api/v1/boards/{world.cast.board.pk}/annotations"


def read_all(client, address):
    """The collection, and the items of all its pages by their links."""
    answer = client.get(address)
    assert answer.headers["Content-Type"] == TYPE
    whole = answer.json()
    holds_collection(whole)
    items, link, before = [], whole.get("first", {}).get("id"), None
    while link:
        page = client.get(link).json()
        holds_page(page)
        assert items or page["items"] == whole["first"]["items"]
        assert (page["id"], page["startIndex"], page.get("prev")) == (link, len(items), before)
        items += page["items"]
        before, link = link, page.get("next")
    assert len(items) == whole["total"] and before == whole.get("last")
    return items


def test_every_note_and_reply_is_a_valid_annotation(world, editor):
    reply_to_note(seat=world.cast.seat("artist"), note=world.artists.note, body="I <see> it.")
    pin_note(seat=world.cast.seat("editor"), page=world.artists.page, body="Round it.", tone="must", region=TRIANGLE)
    pin_note(seat=world.cast.seat("editor"), page=world.artists.page, body="A calm page.", tone="keep", scope="page")
    items = read_all(editor, collection(world))
    shown = Note.objects.filter(board=world.cast.board).count()
    assert len(items) == shown + 1 and len({item["id"] for item in items}) == len(items)
    by_words = {item["body"][0]["value"]: item for item in items if isinstance(item["body"], list)}
    assert by_words["Keep the flood rising."]["target"].endswith(f"/boards/{world.cast.board.pk}")
    assert "selector" not in by_words["A calm page."]["target"]


def test_what_a_note_draws_is_a_target_of_its_own(world, editor):
    stroke, arrow = [[0.1, 0.1], [0.2, 0.3], [0.5, 0.1]], [[0.5, 0.5], [0.5, 0.2]]
    lines = [{"kind": "stroke", "points": stroke}, {"kind": "arrow", "points": arrow}]
    seat = world.cast.seat("editor")
    note = pin_note(seat=seat, page=world.artists.page, body="Like this.", tone="try", region=TRIANGLE, lines=lines)
    told = editor.get(f"/api/v1/notes/{note.pk}/annotation").json()
    holds_annotation(told)
    region, drawn = told["target"]
    assert drawn["source"] == region["source"] and drawn["selector"]["type"] == "SvgSelector"
    stroke, arrow, barbs = re.findall(r'<polyline points="([^"]*)"/>', drawn["selector"]["value"])
    assert (stroke, arrow) == ("4.0,6.0 8.0,18.0 20.0,6.0", "20.0,30.0 20.0,12.0")
    left, tip, right = barbs.split()
    assert tip == "20.0,12.0" and left != right


def test_a_region_is_a_box_in_pixels_and_its_outline(world, editor):
    """The picture is 40 × 60 px."""
    note = pin_note(seat=world.cast.seat("editor"), page=world.artists.page, body="Round it.", tone="ask", region=TRIANGLE)
    told = editor.get(f"/api/v1/notes/{note.pk}/annotation").json()
    holds_annotation(told)
    box, outline = told["target"]["selector"]
    assert box["value"] == "xywh=pixel:4,6,16,18"
    assert 'points="4.0,6.0 20.0,6.0 12.0,24.0"' in outline["value"]
    assert told["target"]["source"]["id"] == f"http://testserver/api/v1/revisions/{world.artists.revision.pk}/file"
    assert (told["motivation"], told["body"][1]["value"], told["creator"]["name"]) == ("questioning", "ask", "Editor")
    corner = pin_note(seat=world.cast.seat("editor"), page=world.artists.page, body="It.", tone="try", region={"point": [1.0, 1.0]})
    told = editor.get(f"/api/v1/notes/{corner.pk}/annotation").json()
    assert told["target"]["selector"]["value"] == "xywh=pixel:39,59,1,1"


def test_a_reply_is_an_annotation_on_its_notes_annotation(world, editor):
    reply = reply_to_note(seat=world.cast.seat("artist"), note=world.artists.note, body="I see it.")
    address = f"http://testserver/api/v1/notes/{world.artists.note.pk}/annotation"
    told = editor.get(f"{address}?reply={reply.pk}").json()
    holds_annotation(told)
    assert (told["motivation"], told["target"], told["creator"]["name"]) == ("replying", address, "Artist")
    assert editor.get(f"{address}?reply=x").status_code == 404


def test_a_measured_note_tells_its_figures_and_how_they_were_measured(world, editor):
    on = world.artists
    job = Job.objects.filter(revision=on.revision).first()
    note = Note.objects.create(board=world.cast.board, page=on.page, panel=on.panel, revision=on.revision, region=TRIANGLE,
                               tone="ask", body="It misses its point.", check_id="perspective", finding_kind="stray-edge")
    Finding.objects.create(note=note, job=job, revision=on.revision, kind="stray-edge", measured=6.2, expected=0,
                           tolerance=4, unit="°", confidence=0.93, text=note.body, geometry={})
    told = editor.get(f"/api/v1/notes/{note.pk}/annotation").json()
    holds_annotation(told)
    assert told["creator"] == {"type": "Software", "name": "Underblue: Perspective"}
    figures, page = told["body"][3:]
    assert "6.2 °; expected 0 give or take 4 °; confidence 0.93" in figures["value"]
    assert page["source"]["id"].startswith("http://testserver/how-measured/stray-edge")


def test_it_comes_in_pages_and_keeps_what_was_asked_for(world, editor, monkeypatch):
    monkeypatch.setattr("api.annotations.ON_A_PAGE", 2)
    for number in range(4):
        pin_note(seat=world.cast.seat("editor"), page=world.artists.page, body=f"No. {number}", tone="must", scope="page")
    must = read_all(editor, f"{collection(world)}?tone=must&state=open")
    assert [item["body"][0]["value"] for item in must] == ["No. 0", "No. 1", "No. 2", "No. 3"]
    assert read_all(editor, f"{collection(world)}?tone=must&state=stet") == []
    assert editor.get(f"{collection(world)}?part=99").status_code == 404
    assert editor.get(f"{collection(world)}?part=-1").status_code == 400


def test_held_notes_are_their_writers_alone(world, client_of):
    held = world.artists.held
    assert any(f"/notes/{held.pk}/" in item["id"] for item in read_all(client_of("editor"), collection(world)))
    assert not any(f"/notes/{held.pk}/" in item["id"] for item in read_all(client_of("artist"), collection(world)))
    assert client_of("artist").get(f"/api/v1/notes/{held.pk}/annotation").status_code == 404


def test_students_see_notes_on_their_own_pages_alone(world, client_of):
    seen = read_all(client_of("student"), collection(world))
    assert any(f"/notes/{world.students.note.pk}/" in item["id"] for item in seen)
    assert not any(f"/notes/{world.artists.note.pk}/" in item["id"] for item in seen)


def test_a_classmates_note_names_nobody(world, editor):
    Note.objects.filter(pk=world.artists.note.pk).update(author=None, pen_name="a classmate")
    told = editor.get(f"/api/v1/notes/{world.artists.note.pk}/annotation").json()
    holds_annotation(told)
    assert told["creator"] == {"type": "Person", "name": "a classmate"}
