"""The whole of the main job by keys alone, and as a screen reader tells it: nobody here has a mouse."""

import re
from pathlib import Path

import cv2
from playwright.sync_api import Locator, expect

from tests.browser.bent_room import two_rooms
from tests.browser.conftest import PASSWORDS
from tests.browser.keyboard import Keyboard
from tests.browser.script import Script

WORDS = "The chimney leans towards us."
UPLOAD = """
- dialog "A picture for page 31":
  - heading "A picture for page 31" [level=2]
  - button "Close"
  - button "Picture"
  - status: PNG, JPEG, WebP, TIFF or OpenRaster. The file itself is kept untouched.
  - combobox "Stage"
  - combobox "Alternate"
  - spinbutton "Minutes spent (if you like)"
  - button "Upload"
"""
MEASURED = """
- region "Page 31 and its notes":
  - application /Page 31. picture\\. Arrow keys move it/:
    - img "Page 31, thumbnail, revision 1"
  - button "Hand in …"
  - button "Lay over …"
  - list "Notes":
    - listitem:
      - button /^[\\d.]+° Measured. Edge off its vanishing point \\(panel 1\\)$/ [expanded]
      - paragraph: /This edge misses the point/
      - term: Measured
      - definition: /°/
      - term: Expected
      - definition: /give or take/
      - link "How is this measured? (in a new tab)"
      - button "Answered"
      - button /Stet. let it stand/
      - button "Leave panel 1 alone"
      - textbox "Reply"
"""
STRIP = """
- navigation "Panels in reading order":
  - list:
    - listitem:
      - button "Whole page" [pressed]
    - listitem:
      - button /Panel 1 with \\d measured notes?/
"""
WRITTEN = """
- form "New note":
  - group "Tone":
    - radio "must" [checked]
    - radio "try"
    - radio "ask"
    - radio "keep"
  - textbox "What you want to say": The chimney leans towards us.
  - paragraph: A region in panel 1.
  - button "Move or size the region by arrow keys"
  - button "Pin it"
  - button "Hold it"
  - button "Never mind"
"""
TO_SETTLE = """
- listitem:
  - button "must answered 1 reply (panel 1)" [expanded]
  - paragraph: /Oriel Fenn, panel 1/
  - paragraph: The chimney leans towards us.
  - list "Replies":
    - listitem:
      - text: /Wim Tarrow/
      - paragraph: Straightened.
  - button "Settle"
  - button /Stet. let it stand/
  - button "Open again"
  - button "Change"
  - textbox "Reply"
"""
MOVES = """
- dialog "Page 31":
  - heading "Page 31" [level=2]
  - button "Close"
  - paragraph: /No note by a person is open. Measured and still open. [0-9]+./
  - textbox "A word with it (if you like)"
  - combobox "Sent back to the stage"
  - list:
    - listitem:
      - button "Sign off"
    - listitem:
      - button "Send back"
"""


def note_with(page, words: str) -> Locator:
    return page.locator(".notes > li", has_text=words)


def test_the_main_job_by_keys_alone(arrive, server, tmp_path: Path):
    """From the sign-in over an upload and what is measured on it to a settled note and a page moved on; nobody has a mouse."""
    page_id = Script(server).add_page(31)
    artist, editor = arrive(reduced_motion="reduce"), arrive("oriel", reduced_motion="reduce")
    for visitor in (artist, editor):
        visitor.keys = Keyboard(visitor.page)
    sign_in(artist)
    for visitor in (artist, editor):
        desk_over_the_wall(visitor)
    upload(artist, picture(tmp_path))
    read_what_was_measured(artist)
    pin_a_note(editor)
    answer_it(artist)
    settle_it(editor)
    move_on(artist, "Hand in …", "Hand in")
    move_on(editor, "Sign off or send back …", "Sign off")
    expect(artist.page.locator("#title-block .stage")).to_have_text("pencil")
    assert artist.read(f"/pages/{page_id}/notes?source=person")[0]["state"] == "settled"


def picture(folder: Path) -> Path:
    path = folder / "page-31.png"
    cv2.imwrite(str(path), two_rooms(8.0))
    return path


def sign_in(artist) -> None:
    artist.go("/sign-in")
    keys, page = artist.keys, artist.page
    keys.tab_to(page.get_by_label("Name"))
    keys.write("wim")
    keys.tab_to(page.get_by_label("Password"))
    keys.write(PASSWORDS["wim"])
    keys.press("Enter")
    page.wait_for_url("**/boards")


def desk_over_the_wall(visitor) -> None:
    visitor.go("/boards")
    visitor.keys.push("High Water at Sallow Mill", role="link")
    visitor.page.wait_for_selector('#spreads[aria-busy="false"]')
    visitor.keys.tab_to(visitor.page.get_by_role("link", name=re.compile("Page 31$")))
    visitor.keys.press("Enter")
    visitor.page.wait_for_url("**/pages/*")
    visitor.page.wait_for_selector(".notes > li")


def upload(artist, file: Path) -> None:
    keys, page = artist.keys, artist.page
    keys.push("Upload a picture")
    dialog = page.get_by_role("dialog")
    keys.tab_to(dialog.get_by_label("Picture", exact=True))
    expect(dialog).to_match_aria_snapshot(UPLOAD)
    with page.expect_file_chooser() as chooser:
        keys.press("Enter")
    chooser.value.set_files(file)
    keys.push("Upload", dialog)
    expect(dialog).to_have_count(0)
    keys.hears("is uploaded")
    keys.focus_is_kept()


def read_what_was_measured(artist) -> None:
    page = artist.page
    note = page.locator(".note.is-measured", has_text="Edge off its vanishing point").first
    expect(note).to_be_visible(timeout=90_000)
    artist.keys.hears("Measured on panel 1: Edge off its vanishing point.")
    artist.keys.hears("All is measured on this picture.")
    artist.keys.focus_is_kept()
    artist.keys.press("j")
    expect(page.locator(".note.is-measured .note-head:focus")).to_have_attribute("aria-expanded", "true")
    if note.locator(".note-head:focus").count() == 0:  # another check found something above it
        artist.keys.tab_to(note.locator(".note-head"))
        artist.keys.press("Enter")
    expect(page.locator("#sheet")).to_match_aria_snapshot(MEASURED)
    expect(page.locator("#strip")).to_match_aria_snapshot(STRIP)
    artist.keys.press("7")
    expect(page.locator(".overlay-edges.family-1").first).to_be_visible()
    artist.keys.press("7")
    expect(page.locator(".overlay-edges")).to_have_count(0)


def pin_a_note(editor) -> None:
    keys, page = editor.keys, editor.page
    expect(page.locator(".strip-panel:not(.is-whole)")).to_have_count(2, timeout=30_000)
    keys.press("n", "c")
    expect(page.get_by_label("What you want to say")).to_be_focused()
    keys.write(WORDS)
    keys.tab_to(page.get_by_role("radio", name="try"), "Shift+Tab")
    keys.press("ArrowLeft")
    keys.push("Move or size the region by arrow keys")
    keys.press("Shift+ArrowLeft", "Shift+ArrowUp", "ArrowRight", "Enter")
    keys.hears("from 6 % to")
    expect(page.get_by_role("form", name="New note")).to_match_aria_snapshot(WRITTEN)
    keys.push("Pin it")
    keys.hears("Pinned.")
    expect(note_with(page, WORDS)).to_be_visible()
    keys.focus_is_kept()


def answer_it(artist) -> None:
    keys, page = artist.keys, artist.page
    note = note_with(page, WORDS)
    expect(note).to_be_visible(timeout=5000)
    keys.hears("pinned a note (must) on panel 1.")
    keys.tab_to(note.get_by_role("button").first)
    keys.press("Enter")
    keys.tab_to(note.get_by_label("Reply"))
    keys.write("Straightened.")
    keys.push("Send reply", note)
    keys.hears("Reply sent.")
    expect(note.locator(".replies")).to_contain_text("Straightened.")
    keys.focus_is_kept()
    keys.push("Answered", note)
    keys.hears("Marked as answered.")
    expect(note.locator(".note-state")).to_have_text("answered")
    keys.focus_is_kept()


def settle_it(editor) -> None:
    keys, page = editor.keys, editor.page
    note = note_with(page, WORDS)
    expect(note.locator(".note-state")).to_have_text("answered")
    keys.hears("answered the note on panel 1.")
    expect(note).to_match_aria_snapshot(TO_SETTLE)
    keys.push("Settle", note)
    keys.hears("Settled.")
    expect(note.locator(".note-state")).to_have_text("settled")
    keys.focus_is_kept()


def move_on(visitor, opener: str, deed: str) -> None:
    visitor.keys.push(opener)
    dialog = visitor.page.get_by_role("dialog")
    if deed == "Sign off":
        expect(dialog).to_match_aria_snapshot(MOVES)
    visitor.keys.push(deed, dialog)
    expect(dialog).to_have_count(0)
    visitor.keys.focus_is_kept()
