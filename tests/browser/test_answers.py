"""After a new revision the reviewer is asked about the notes whose spot was drawn anew, answers by one key, and can undo it."""

import pytest
from playwright.sync_api import Page, expect

from tests.browser.test_margins import PIN

BOX = {"polygon": [[0.1, 0.1], [0.3, 0.1], [0.3, 0.2], [0.1, 0.2]]}
# Of a double click on the head, when the note has opened under it. Whether it comes through.
SECOND_CLICK = "one => one.dispatchEvent(new MouseEvent('click', { bubbles: true, cancelable: true, detail: 2 }))"


@pytest.fixture
def asked(arrive) -> Page:
    """Page 2, with two notes on the picture that was drawn anew since."""
    visitor = arrive("oriel")
    visitor.desk(2)
    page_id = int(visitor.page.url.split("/")[-1])
    first = visitor.read(f"/pages/{page_id}/revisions")[0]["id"]
    words = ["Too dark a goose.", "Too light a goose."]
    visitor.page.evaluate(PIN, [{"region": BOX, "tone": "try", "body": body, "revision": first} for body in words])
    for body in words:
        expect(visitor.page.locator(".notes > li", has_text=body)).to_contain_text("answered in this revision?")
    return visitor.page


def test_changed_spots_are_answered_by_one_key_each_and_undone(asked):
    dark, light = (asked.locator(".notes > li", has_text=f"Too {shade} a goose.") for shade in ("dark", "light"))
    asked.get_by_role("button", name="Answered here? 2 notes").press("Enter")
    yes = dark.get_by_role("button", name="Yes, settle it")
    expect(yes).to_be_focused()
    assert not yes.evaluate(SECOND_CLICK)
    asked.keyboard.press("y")
    expect(asked.locator("#slips")).to_contain_text("Settled.")
    expect(light.locator(".note-head")).to_have_attribute("aria-expanded", "true")
    expect(asked.locator('[data-key="asked-first"]')).to_have_text("Answered here? 1 note")
    asked.keyboard.press("u")
    expect(asked.locator('[data-key="asked-first"]')).to_have_text("Answered here? 2 notes")
    asked.keyboard.press("o")
    expect(asked.get_by_text("It stays open.")).to_be_visible()
    asked.reload()
    expect(asked.locator('[data-key="asked-first"]')).to_have_text("Answered here? 1 note")
    expect(light).to_contain_text("changed here since")
