"""What an editor and an artist do in a day, in two browsers at once."""

import re
from pathlib import Path

from playwright.sync_api import Page, expect

from tests.flow.conftest import THREE_PANELS, drawn_page


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


def test_from_sign_in_to_a_settled_note(arrive):
    editor, artist = arrive("oriel"), arrive("wim")
    editor.desk_from_wall(1)
    artist.desk(1)
    drag(editor.page, (0.3, 0.2), (0.6, 0.35))
    editor.page.get_by_label("What you want to say").fill("The chimney leans towards us.")
    editor.page.get_by_text("must", exact=True).click()
    editor.page.get_by_role("button", name="Pin it").click()
    # The artist did nothing: it comes in by itself.
    note = note_with(artist.page, "The chimney leans towards us.")
    expect(note).to_be_visible()
    note.locator(".note-head").click()
    note.get_by_label("Reply").fill("Straightened.")
    note.get_by_role("button", name="Send reply").click()
    expect(note.locator(".replies")).to_contain_text("Straightened.")
    note.get_by_role("button", name="Answered").click()
    expect(note.locator(".note-state")).to_have_text("answered")
    mine = note_with(editor.page, "The chimney leans towards us.")
    expect(mine.locator(".note-state")).to_have_text("answered")
    mine.get_by_role("button", name="Settle").click()
    expect(mine.locator(".note-state")).to_have_text("settled")


def test_a_note_is_pinned_held_and_sent_by_the_keyboard_alone(arrive):
    editor = arrive("oriel")
    editor.desk(3)
    page = editor.page
    page.keyboard.press("n")
    expect(page.get_by_role("button", name=re.compile("^Panel 1"))).to_have_attribute("aria-pressed", "true")
    page.keyboard.press("c")
    expect(page.get_by_label("What you want to say")).to_be_focused()
    page.keyboard.type("Let the rain fall the other way.")
    page.get_by_role("button", name="Move or size the region by arrow keys").press("Enter")
    for key in ("ArrowRight", "Shift+ArrowLeft", "Shift+ArrowUp"):
        page.keyboard.press(key)
    page.get_by_role("button", name="Hold it").press("Enter")
    held = note_with(page, "Let the rain fall the other way.")
    expect(held.locator(".note-state")).to_have_text("held")
    page.locator("body").press("s")
    expect(held.locator(".note-state")).to_have_count(0)


def test_a_held_note_is_seen_by_nobody_else(arrive):
    editor, artist = arrive("oriel"), arrive("wim")
    editor.desk(2)
    editor.page.get_by_role("button", name="Note on the page").click()
    editor.page.get_by_label("What you want to say").fill("Not sure yet.")
    editor.page.get_by_role("button", name="Hold it").click()
    expect(note_with(editor.page, "Not sure yet.")).to_be_visible()
    artist.desk(2)
    expect(note_with(artist.page, "Not sure yet.")).to_have_count(0)


def test_an_upload_is_measured_while_one_looks_on(arrive, tmp_path: Path):
    artist = arrive("wim")
    artist.desk(8)
    file = tmp_path / "page-08-again.png"
    file.write_bytes(drawn_page(THREE_PANELS, size=(1240, 1748)).getvalue())
    artist.page.get_by_role("button", name="Upload a picture").click()
    artist.page.get_by_label("Picture", exact=True).set_input_files(file)
    artist.page.get_by_role("dialog").get_by_role("button", name="Upload").click()
    expect(artist.page.get_by_role("dialog")).to_have_count(0)
    expect(artist.page.locator(".strip-panel:not(.is-whole)")).to_have_count(3)
    at_work = '.checks li[data-state="queued"], .checks li[data-state="running"]'
    expect(artist.page.locator(at_work)).to_have_count(0, timeout=40_000)


def test_what_stands_against_a_sign_off_is_said(arrive):
    editor = arrive("oriel")
    editor.desk(3)
    editor.page.get_by_role("button", name="Sign off or send back").click()
    dialog = editor.page.get_by_role("dialog")
    expect(dialog).to_contain_text("It is not handed in yet")
    expect(dialog.get_by_role("button", name="Sign off")).to_be_disabled()


def test_one_panel_is_sent_back_alone(arrive):
    editor = arrive("oriel")
    editor.desk(6)
    editor.page.get_by_role("button", name=re.compile("^Panel 2")).click()
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
    artist.page.get_by_role("button", name=re.compile("^Panel 1")).click()
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
