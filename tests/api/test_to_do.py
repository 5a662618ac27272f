"""The to-do list: by page and panel, as one may see it, by what was asked for."""

import pytest

from board.actions.notes import pin_note
from board.actions.revisions import withdraw_revision
from board.models import Note, Panel, Reply
from tests.api.world import ready_revision


@pytest.fixture
def listed(world, client_of):
    """`listed("editor", "tone=must")`: the page as that person gets it."""

    def read(who: str, query: str = "") -> str:
        answer = client_of(who).get(f"/boards/{world.cast.board.pk}/to-do?{query}")
        assert answer.status_code == 200
        return answer.content.decode()

    return read


def test_it_opens_for_members_alone(world, client_of):
    path = f"/boards/{world.cast.board.pk}/to-do"
    assert {name: client_of(name).get(path).status_code for name in ("reader", "outsider", "anonymous")} == {
        "reader": 200, "outsider": 404, "anonymous": 302}


def test_notes_stand_by_page_and_panel_and_lead_to_the_desk(world, listed):
    pin_note(seat=world.cast.seat("editor"), page=world.artists.page, body="A calmer page.", tone="must", scope="page")
    words = listed("artist")
    places = [words.index(told) for told in (">Page 1<", "The page", "A calmer page.", "Panel 1", "The hand floats.", ">Page 2<")]
    assert places == sorted(places)
    assert f'/pages/{world.artists.page.pk}?note={world.artists.note.pk}' in words
    assert "Keep the flood rising." not in words and "Keep the flood rising." in listed("artist", "tone=keep")


def test_a_note_on_two_facing_pages_says_so(world, listed):
    assert "the whole spread" not in listed("artist")
    pin_note(seat=world.cast.seat("editor"), page=world.artists.page, body="Too even.", tone="must", scope="spread")
    assert "the whole spread" in listed("artist")


def test_what_the_tones_leave_out_is_counted_and_one_step_away(world, listed):
    words = listed("artist", "state=waiting")
    assert "1 more in other tones" in words
    address = "?state=waiting&amp;tone=must&amp;tone=try&amp;tone=ask&amp;tone=keep"
    assert address in words
    assert "in other tones" not in listed("artist", "state=waiting&tone=must&tone=try&tone=ask&tone=keep")


def test_a_panel_that_is_gone_is_called_by_no_number(world, listed):
    numbered = listed("artist").count("<h3>Panel 1")
    Panel.objects.filter(pk=world.artists.panel.pk).update(is_gone=True)
    words = listed("artist")
    assert words.count("<h3>Panel 1") == numbered - 1
    assert words.index("A panel that is not on the picture any more") < words.index("The hand floats.")


def test_a_note_on_another_picture_than_the_pages_own_says_on_which(world, listed):
    page, spot = world.artists.page, {"point": [0.5, 0.5]}
    other = ready_revision(world.cast, page, shade=90, alternate="B")
    newer = ready_revision(world.cast, page, shade=91)
    for body, on in (("On the other try.", other), ("On the newer one.", newer), ("Here.", world.artists.revision)):
        pin_note(seat=world.cast.seat("editor"), page=page, body=body, tone="must", region=spot, revision=on)
    withdraw_revision(seat=world.cast.seat("artist"), revision=newer)
    words = listed("artist")

    def said_over(body: str) -> str:
        return words[: words.index(body)].rpartition("<strong>must</strong>")[2]

    assert f"on alternate B, revision {other.number}<" in said_over("On the other try.")
    assert f"on revision {newer.number}, withdrawn<" in said_over("On the newer one.")
    assert "revision" not in said_over("Here.")


def test_a_panel_that_is_sent_back_says_so(world, listed):
    assert "sent back" not in listed("artist")
    Panel.objects.filter(pk=world.artists.panel.pk).update(sent_back_to="thumbnail")
    assert listed("artist").count("sent back") == 1


@pytest.mark.parametrize(
    ("query", "on_it", "not_on_it"),
    [("tone=must", ["It is a must."], ["The hand floats."]), ("whose=written", [], ["The hand floats."]),
     ("whose=drawn", ["The hand floats."], []), ("state=waiting&tone=try", ["Was answered."], []), ("", [], ["Was answered."]),
     ("source=measured", ["Measured."], ["The hand floats."]), ("source=person", ["The hand floats."], ["Measured."]),
     ("state=odd&whose=odd&tone=odd&page=odd&source=odd&from=odd", ["The hand floats."], ["Was answered."])],
)
def test_filters(world, listed, query, on_it, not_on_it):
    board, page, editor = world.cast.board, world.artists.page, world.cast.seat("editor")
    pin_note(seat=editor, page=page, body="It is a must.", tone="must", scope="page")
    Note.objects.create(board=board, page=page, body="Was answered.", tone="try", state="answered", author=world.cast.editor)
    Note.objects.create(board=board, page=page, body="Measured.", tone="try", check_id="perspective", finding_kind="stray-edge")
    words = listed("artist", query)
    assert all(told in words for told in on_it) and not any(told in words for told in not_on_it)


def test_words_are_found_in_notes_and_replies_and_closed_ones_too(world, listed):
    Note.objects.create(board=world.cast.board, page=world.artists.page, body="L’ÉCLUSE leans.", tone="try", state="settled")
    Reply.objects.create(note=world.artists.note, author=world.cast.artist, body="By the sluice, then.")
    assert "ÉCLUSE" not in listed("artist") and "ÉCLUSE" in listed("artist", "state=all")
    for query, found in (("find=sluice", "The hand floats."), ("find=l’écluse&state=all", "ÉCLUSE leans.")):
        words = listed("artist", query)
        assert found in words and words.count('class="to-do-note') == 1
    assert "No such note" in listed("artist", "find=goose")
    assert "Not sent yet." not in listed("artist", "state=all")


def test_one_page_alone(world, listed):
    words = listed("editor", f"page={world.students.page.pk}")
    assert ">Page 2<" in words and ">Page 1<" not in words


def test_nothing_that_one_may_not_see(world, listed):
    assert ">Page 1<" not in listed("student") and ">Page 2<" in listed("student")
    for who in ("editor", "artist"):
        assert "Not sent yet." not in listed(who, "state=waiting")


def test_a_classmates_note_names_nobody(world, listed):
    Note.objects.filter(pk=world.students.note.pk).update(author=None, pen_name="a classmate")
    words = listed("student")
    assert "a classmate" in words and "Editor" not in words


def test_an_empty_list_says_so(world, listed):
    Note.objects.all().delete()
    assert "Nothing to do here" in listed("reader")


def test_a_long_list_comes_in_parts_of_whole_pages_and_all_in_one_where_asked(world, listed, monkeypatch):
    monkeypatch.setattr("board.screens.to_do.ENOUGH", 4)
    board, pages = world.cast.board, (world.artists.page, world.students.page)
    for page, tone in ((None, "must"), *((page, tone) for page in pages for tone in ("must", "ask", "keep"))):
        Note.objects.create(board=board, page=page, scope="page" if page else "board", body=f"{page} {tone}", tone=tone)
    first, second, whole = listed("editor"), listed("editor", "from=2&state=waiting"), listed("editor", "whole=yes")
    heads = (">The whole board<", ">Page 1</a> <", ">Page 2</a> <")
    shown = [[head for head in heads if head in words] for words in (first, second, whole)]
    assert shown == [[*heads[:2]], [heads[2]], [*heads]]
    assert "of the board and page 1<" in first and 'href="?from=2"' in first
    assert "of page 2<" in second and 'href="?from=0&amp;state=waiting"' in second
    assert "to-do-parts" not in whole
    assert "to-do-parts" not in listed("editor", "find=hand floats")
