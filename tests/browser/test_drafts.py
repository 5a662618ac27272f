"""What is being written outlives the tab, is not disturbed by what others write meanwhile, and the last step can be undone."""

from playwright.sync_api import Page, expect

from tests.browser.script import Script
from tests.browser.test_main_job import drag
from tests.browser.test_margins import PIN
from tests.browser.windows import HAND_MS
from tests.flow.conftest import THREE_PANELS, TWO_TIERS, drawn_array

IS_MARKED = "(area) => { area.dataset.mine = 'yes'; }"


def test_a_draft_is_left_alone_by_others_and_is_there_again_after_the_tab_died(arrive):
    editor, artist = arrive("oriel"), arrive("wim")
    editor.desk(6)
    artist.desk(6)
    page = editor.page
    focus_comes_back(page, artist.page)
    drag(page, (0.3, 0.2), (0.6, 0.35))
    area = page.get_by_label("What you want to say")
    area.fill("The hoist should ")
    area.evaluate(IS_MARKED)
    artist.page.evaluate(PIN, [{"scope": "page", "tone": "ask", "body": "Meanwhile."}])
    expect(page.locator(".notes > li", has_text="Meanwhile.")).to_be_visible()
    expect(area).to_be_focused()
    expect(area).to_have_attribute("data-mine", "yes")
    page.keyboard.type("creak.")
    page.reload()
    expect(page.get_by_text("The note that you had not sent is here again.")).to_be_visible()
    expect(area).to_have_value("The hoist should creak.")
    expect(page.locator(".draft-place")).to_contain_text("A region in panel")
    page.get_by_role("button", name="Pin it").click()
    expect(page.locator(".notes > li", has_text="The hoist should creak.")).to_be_visible()
    page.reload()
    page.wait_for_selector(".notes > li .note-head")
    expect(page.get_by_text("is here again")).to_have_count(0)


def test_a_note_stays_with_the_picture_that_it_is_drawn_on(arrive, server):
    script = Script(server)
    number = script.add_page(71)
    first = script.upload(number, drawn_array(TWO_TIERS))["id"]
    editor = arrive("oriel")
    editor.desk_of(number)
    page = editor.page
    shown, head = page.locator("#picture"), page.locator("#which")
    expect(shown).to_have_attribute("data-revision", str(first))
    expect(head).to_have_text("thumbnail, revision 1")
    drag(page, (0.3, 0.2), (0.6, 0.35))
    page.get_by_label("What you want to say").fill("Closer together.")
    second = script.send_picture(f"/pages/{number}/revisions", drawn_array(THREE_PANELS), stage="thumbnail")["id"]
    expect(page.get_by_text("A newer picture is here.")).to_be_visible()
    expect(shown).to_have_attribute("data-revision", str(first))
    expect(head).to_contain_text("revision 1, not the page's own now")
    head.get_by_role("button", name="Show revision 2").click()
    expect(shown).to_have_attribute("data-revision", str(second))
    expect(page.locator(".hold.is-draft")).to_have_count(0)
    page.get_by_role("button", name="Pin it").click()
    expect(page.locator(".notes > li", has_text="Closer together.")).to_be_visible()
    (note,) = (one for one in editor.read(f"/pages/{number}/notes") if one["body"] == "Closer together.")
    assert note["revision"] == first
    expect(head).to_have_text("thumbnail, revision 2")
    expect(shown).to_have_attribute("data-revision", str(second))


def focus_comes_back(page: Page, other: Page) -> None:
    """To the button that a dialog was opened from, although what others did has drawn it anew meanwhile."""
    opener = page.locator('[data-key="moves"]')
    drawn_first = opener.element_handle()
    opener.press("Enter")
    expect(page.get_by_role("dialog")).to_be_visible()
    other.evaluate(PIN, [{"scope": "page", "tone": "must", "body": "Before all else."}])
    expect(page.locator(".notes > li", has_text="Before all else.")).to_have_count(1)
    assert not drawn_first.evaluate("(button) => button.isConnected")
    page.keyboard.press("Escape")
    expect(opener).to_be_focused()


def test_a_reply_is_left_alone_while_others_answer_the_same_note(arrive):
    editor, artist = arrive("oriel"), arrive("wim")
    artist.desk(6)
    artist.page.evaluate(PIN, [{"scope": "page", "tone": "ask", "body": "Whose boat is it?"}])
    editor.desk(6)
    page = editor.page
    note = page.locator(".notes > li", has_text="Whose boat is it?")
    note.locator(".note-head").click()
    area = note.get_by_label("Reply")
    area.fill("It is the ")
    area.evaluate(IS_MARKED)
    artist.page.locator(".notes > li", has_text="Whose boat is it?").locator(".note-head").click()
    artist.page.get_by_label("Reply").fill("Hask's, or the ferry's?")
    artist.page.get_by_role("button", name="Send reply").click()
    expect(note.locator(".replies")).to_contain_text("Hask's, or the ferry's?")
    expect(area).to_be_focused()
    expect(area).to_have_attribute("data-mine", "yes")
    page.keyboard.type("ferry's.")
    page.keyboard.press("Control+Enter")
    expect(note.locator(".replies > li")).to_have_count(2)
    expect(area).to_have_value("")


def test_a_dropped_and_a_changed_note_come_back(arrive):
    editor = arrive("oriel")
    editor.desk(6)
    page = editor.page
    page.get_by_role("button", name="Note on the page").click()
    page.get_by_label("What you want to say").fill("Colder light.")
    page.get_by_role("button", name="Hold it").click()
    held = page.locator(".notes > li", has_text="Colder light.")
    # Pressed for as long as a hand presses: what is read meanwhile moves nothing from under the pointer, nor does the focus.
    held.get_by_role("button", name="Drop").click(delay=HAND_MS)
    expect(held).to_have_count(0)
    page.get_by_role("button", name="Undo").click(delay=HAND_MS)
    expect(held.locator(".note-state")).to_have_text("held")
    held.locator(".note-head").click()
    held.get_by_role("button", name="Change").click()
    page.get_by_label("What you want to say").fill("Warmer light.")
    page.get_by_role("button", name="Save").click()
    expect(page.locator(".notes > li", has_text="Warmer light.")).to_be_visible()
    page.locator("body").press("u")
    expect(held).to_be_visible()
