"""What an editor and an artist do in a day, by mouse, in two browsers at once."""

import re
from pathlib import Path

from playwright.sync_api import Page, expect

from tests.browser.accessibility import violations_in_both_schemes
from tests.browser.script import Script
from tests.browser.windows import HAND_MS
from tests.flow.conftest import TWO_TIERS, drawn_array, drawn_page


def drag(page: Page, start: tuple[float, float], end: tuple[float, float]) -> None:
    """Over the picture, in fractions of what is seen of it."""
    box = page.locator("#picture").bounding_box()
    at = [(box["x"] + x * box["width"], box["y"] + y * box["height"]) for x, y in (start, end)]
    page.mouse.move(*at[0])
    page.mouse.down()
    page.mouse.move(at[0][0] + 20, at[0][1] + 20)
    page.mouse.move(*at[1])
    page.mouse.up()


def note_with(page: Page, words: str):
    return page.locator(".notes > li", has_text=words)


def test_a_held_note_is_seen_by_nobody_else_until_it_is_sent(arrive):
    editor, artist = arrive("oriel"), arrive("wim")
    editor.desk(2)
    drag(editor.page, (0.3, 0.2), (0.6, 0.35))
    # What is typed at once goes into the note, and is no key of the Desk.
    expect(editor.page.get_by_label("What you want to say")).to_be_focused()
    editor.page.keyboard.type("Not sure yet.")
    editor.page.get_by_role("button", name="Hold it").click()
    held = note_with(editor.page, "Not sure yet.")
    expect(held.locator(".note-state")).to_have_text("held")
    artist.desk(2)
    expect(note_with(artist.page, "Not sure yet.")).to_have_count(0)
    editor.page.locator("body").press("s")
    # Of those that are held on page 6 nothing is sent.
    expect(editor.page.get_by_role("dialog")).to_contain_text(re.compile(r"You hold \d notes: 1 on page 2, \d on page 6\."))
    assert violations_in_both_schemes(editor.page) == []
    editor.page.get_by_role("button", name="Send the one here").click()
    expect(held.locator(".note-state")).to_have_count(0)
    assert {note["page_number"] for note in editor.read("/boards/1/notes?state=held")} == {6}
    expect(note_with(artist.page, "Not sure yet.")).to_be_visible(timeout=5000)


def test_what_stands_against_a_sign_off_is_said(arrive):
    editor = arrive("oriel")
    editor.desk(7)
    editor.page.get_by_role("button", name="Sign off or send back").click()
    dialog = editor.page.get_by_role("dialog")
    expect(dialog).to_contain_text("It is not handed in yet")
    expect(dialog.get_by_role("button", name="Sign off")).to_be_disabled()
    # Where no move can be made, none takes a word with it.
    expect(dialog.get_by_role("button", name="Send back")).to_be_disabled()
    expect(dialog.get_by_role("textbox")).to_have_count(0)


def test_what_is_held_is_not_forgotten_on_the_wall_and_goes_along_with_a_move(arrive, server):
    script = Script(server)
    number = script.add_page(72)
    script.upload(number, drawn_array(TWO_TIERS))
    version = script.send("GET", f"/pages/{number}")["version"]
    script.send("POST", f"/pages/{number}/stage-moves", {"move": "hand-in"}, version=version)
    editor = arrive("oriel")
    Script(server, "oriel").send("POST", f"/pages/{number}/notes", {"body": "Wider gutter.", "tone": "must", "held": True})
    editor.wall()
    editor.page.locator("#held").get_by_role("button", name="send").click()
    expect(editor.page.get_by_role("dialog")).to_contain_text("on page 72")
    editor.page.keyboard.press("Escape")
    editor.desk_of(number)
    editor.page.get_by_role("button", name="Sign off or send back").click()
    dialog = editor.page.get_by_role("dialog")
    along = dialog.get_by_label("You hold 1 note on this page: send it along")
    expect(along).to_be_checked()
    expect(dialog.get_by_role("button", name="Sign off")).to_be_disabled()
    along.uncheck()
    expect(dialog.get_by_role("button", name="Sign off")).to_be_enabled()
    along.check()
    assert violations_in_both_schemes(editor.page) == []
    dialog.get_by_label("A word with it").fill("The gutter is too narrow.")
    a_picture_that_comes_meanwhile_is_looked_at_first(editor.page, script, number)
    dialog.get_by_role("button", name="Send back").click()
    expect(note_with(editor.page, "Wider gutter.").locator(".note-state")).to_have_count(0)
    expect(note_with(editor.page, "The gutter is too narrow.")).to_have_attribute("data-tone", "must")
    assert script.send("GET", f"/pages/{number}")["waits_for"] == "artist"


def a_picture_that_comes_meanwhile_is_looked_at_first(page: Page, script: Script, number: int) -> None:
    dialog = page.get_by_role("dialog")
    script.send_picture(f"/pages/{number}/revisions", drawn_array(TWO_TIERS, seed=2), stage="thumbnail")
    expect(dialog.locator("li", has_text="Send back")).to_contain_text("Revision 2 is the page's picture by now.")
    expect(dialog.get_by_role("button", name="Send back")).to_have_count(0)
    dialog.get_by_role("button", name="Look at it").last.click()
    page.get_by_role("button", name="Sign off or send back").click()
    expect(dialog.get_by_label("A word with it")).to_have_value("The gutter is too narrow.")


def test_one_panel_is_sent_back_alone(arrive):
    editor = arrive("oriel")
    editor.desk(6)
    editor.page.locator("#strip").get_by_role("button", name="Panel 2").click()
    editor.page.get_by_role("button", name="Send this panel back").click()
    dialog = editor.page.get_by_role("dialog")
    dialog.get_by_label("A word with it").fill("Find this shot again.")
    dialog.get_by_role("button", name="Send back").click()
    expect(editor.page.get_by_role("button", name=re.compile("^Panel 2.*sent back"))).to_be_visible()
    expect(note_with(editor.page, "Find this shot again.")).to_have_attribute("data-tone", "must")


def test_a_check_is_told_to_leave_a_panel_alone(arrive, bent_pages):
    artist = arrive("wim")
    artist.desk_of(bent_pages[0])
    note = artist.page.locator(".note.is-measured", has_text="Edge off its vanishing point").first
    number = note.get_attribute("data-note")
    note.locator(".note-head").click()
    expect(note.locator(".note-figures")).to_contain_text("°")
    expect(artist.page.locator(".drawn .mark-edge").first).to_be_visible()
    artist.page.get_by_role("button", name=re.compile("^Leave panel . alone")).click()
    expect(artist.page.locator(f'[data-note="{number}"] .note-state')).to_have_text("stet")


def test_words_are_written_beside_the_page(arrive):
    artist = arrive("wim")
    artist.desk(7)
    artist.page.locator("#beside").get_by_role("button", name="Panel 1").click()
    expect(artist.page.locator("#strip").get_by_role("button", name="Panel 1")).to_be_focused()
    artist.page.get_by_role("button", name="Write").click()
    artist.page.get_by_label("What happens").fill("The rope takes the strain.")
    artist.page.get_by_role("button", name="Keep it").click()
    expect(artist.page.locator("#beside")).to_contain_text("The rope takes the strain.")


def test_a_reader_looks_and_writes_nothing(arrive):
    reader = arrive("tace")
    reader.desk(1)
    expect(reader.page.get_by_role("button", name="Note on the page")).to_have_count(0)
    drag(reader.page, (0.3, 0.2), (0.6, 0.35))
    expect(reader.page.get_by_label("What you want to say")).to_have_count(0)


def test_what_was_typed_outlives_the_tab(arrive):
    editor = arrive("oriel")
    editor.desk(7)
    editor.page.get_by_role("button", name="Note on the page").click()
    editor.page.get_by_label("What you want to say").fill("A thought half")
    editor.page.reload()
    editor.page.wait_for_selector(".notes > li")
    editor.page.get_by_role("button", name="Note on the page").click()
    expect(editor.page.get_by_label("What you want to say")).to_have_value("A thought half")


def test_a_page_is_added_to_the_wall(arrive):
    artist = arrive("wim")
    artist.wall()
    before = artist.page.get_by_role("article").count()
    artist.page.get_by_role("button", name="Add a page").click()
    artist.page.get_by_label("Number", exact=True).fill("9")
    artist.page.get_by_role("button", name="Add it").click()
    expect(artist.page.get_by_role("article")).to_have_count(before + 1)
    expect(artist.page.locator("#spreads")).to_contain_text("nothing drawn yet")


def test_an_artist_alone_takes_a_page_to_its_end(arrive, server, tmp_path: Path):
    """No editor: what is measured is read and answered, and each stage is signed off in one click by who drew it."""
    script = Script(server)
    board = script.send("POST", "/boards", {"title": "One pair of hands"})["id"]
    page_id = script.send("POST", f"/boards/{board}/pages", {"number": 1})["id"]
    artist = arrive("wim")
    page = artist.page
    artist.go(f"/pages/{page_id}")
    for stage, after in (("thumbnail", "pencil"), ("pencil", "final"), ("final", "finished")):
        file = tmp_path / f"page-1-{stage}.png"
        file.write_bytes(drawn_page(TWO_TIERS, seed=len(stage)).getvalue())
        page.get_by_role("button", name="Upload a picture").click(delay=HAND_MS)
        page.get_by_label("Picture", exact=True).set_input_files(file)
        page.get_by_role("dialog").get_by_role("button", name="Upload").click()
        expect(page.locator("#picture")).to_have_attribute("alt", re.compile(stage))
        expect(page.locator(".checks li").first).to_be_visible()
        expect(page.locator('.checks li[data-state="queued"], .checks li[data-state="running"]')).to_have_count(0)
        if stage == "final":
            let_it_stand(page)
        page.get_by_role("button", name="Sign off or send back").click()
        page.get_by_role("dialog").get_by_role("button", name="Sign off").click()
        expect(page.locator("#title-block")).to_contain_text(after)


def let_it_stand(page: Page) -> None:
    note = page.locator(".note.is-measured", has_text="Too few pixels for print")
    note.locator(".note-head").click()
    expect(note.locator(".note-figures")).to_contain_text("dpi")
    note.get_by_label("Reply").fill("A proof; the print is scanned anew.")
    note.get_by_role("button", name="Send reply").click()
    expect(note.locator(".replies")).to_contain_text("A proof")
    # By key: notes are drawn anew for what happened, and a click whose button goes between down and up is none.
    note.get_by_role("button", name="Stet").press("Enter")
    expect(note.locator(".note-state")).to_have_text("stet")
