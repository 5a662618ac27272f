"""What is laid over the page by one key each; all notes in a list; tries side by side; what is still open before a move."""

from playwright.sync_api import Page, expect

from tests.browser.accessibility import violations_in_both_schemes
from tests.browser.test_screens import shoot

INK = """() => {
  const canvas = document.querySelector(".overlay-before");
  const pixels = canvas.getContext("2d").getImageData(0, 0, canvas.width, canvas.height).data;
  return pixels.some((value, i) => i % 4 === 3 && value > 0);
}"""


def open_dialog(page: Page, key: str):
    page.locator(f'[data-key="{key}"]').press("Enter")
    dialog = page.get_by_role("dialog")
    expect(dialog).to_be_visible()
    return dialog


def test_each_overlay_has_one_key_and_one_button(arrive, screens):
    visitor = arrive("wim")
    visitor.desk(1)
    page = visitor.page
    page.get_by_role("button", name="Lay over …").click()
    # What is off is to be had, and looks it.
    expect(page.get_by_role("button", name="Grid")).to_have_css("text-decoration-line", "none")
    page.locator("#view").press("4")
    expect(page.locator(".overlay-grid").first).to_be_visible()
    expect(page.get_by_role("button", name="Grid")).to_have_attribute("aria-pressed", "true")
    page.locator("#view").press("5")
    expect(page.locator(".overlay-level").first).to_be_visible()
    page.get_by_role("button", name="Revision before").click()
    expect(page.locator(".overlay-before")).to_be_visible()
    assert page.evaluate(INK)
    assert violations_in_both_schemes(page) == []
    shoot(page, screens, "desk-overlays")
    for key in "458":
        page.locator("#view").press(key)
    expect(page.locator(".overlay-before")).to_be_hidden()
    expect(page.locator(".overlay-lines path")).to_have_count(0)


def test_the_first_revision_says_that_nothing_came_before(arrive):
    visitor = arrive("wim")
    visitor.desk(1)
    visitor.page.get_by_label("Revision shown").select_option(label="1, thumbnail")
    visitor.page.locator("#view").press("8")
    expect(visitor.page.get_by_text("No revision came before this one.")).to_be_visible()


def test_notes_are_listed_by_panel_and_by_state_and_lead_to_their_place(arrive, screens):
    visitor = arrive("oriel", width=390, height=844)
    visitor.desk(3)
    page = visitor.page
    page.get_by_role("button", name="More tools").click()
    dialog = open_dialog(page, "note-list")
    expect(dialog.get_by_role("heading", name="Panel 4")).to_be_visible()
    expect(dialog.get_by_label("Listed by")).to_be_focused()
    dialog.get_by_label("Listed by").select_option("state")
    expect(dialog.get_by_role("heading", name="Answered")).to_be_visible()
    assert violations_in_both_schemes(page) == []
    shoot(page, screens, "desk-list-phone")
    row = dialog.locator(".note-row", has_text="Corrin and the crates")
    row.press("Enter")
    expect(page.locator(".note.is-at-hand", has_text="Corrin and the crates").locator(".note-head")).to_be_focused()


def test_what_is_still_open_is_listed_before_a_move_and_leads_to_the_note(arrive):
    visitor = arrive("oriel")
    visitor.desk(3)
    dialog = open_dialog(visitor.page, "moves")
    expect(dialog.locator(".note-row").first).to_contain_text("must")
    dialog.locator(".note-row", has_text="One word, and the whole page").press("Enter")
    expect(visitor.page.locator(".note.is-at-hand")).to_contain_text("One word, and the whole page")


def test_another_try_is_chosen_side_by_side_and_that_is_undone(arrive):
    visitor = arrive("wim")
    visitor.desk(6)
    page = visitor.page
    dialog = open_dialog(page, "alternates")
    expect(dialog.locator(".try.is-chosen")).to_contain_text("Alternate A")
    assert violations_in_both_schemes(page) == []
    dialog.get_by_role("button", name="Choose B").press("Enter")
    shown = page.get_by_label("Revision shown").locator("option:checked")
    expect(shown).to_have_text("3, thumbnail")
    page.get_by_role("button", name="Undo").click()
    expect(shown).to_have_text("4, pencil")
