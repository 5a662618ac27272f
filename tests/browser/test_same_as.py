"""An artist says whose drawing a panel takes over, and reads what became of a panel."""

from playwright.sync_api import expect

from tests.browser.accessibility import violations_in_both_schemes


def test_a_pair_is_seen_taken_back_and_declared_again_by_keyboard(arrive):
    page = artists_desk(arrive, 8)
    beside, dialog = page.locator("#beside"), page.get_by_role("dialog")
    expect(beside).to_contain_text("Same as panel 1 of page 1.")
    page.get_by_role("button", name="Same as …").press("Enter")
    expect(dialog.get_by_role("button", name="Panel 1", exact=True)).to_have_attribute("aria-pressed", "true")
    assert violations_in_both_schemes(page) == []
    dialog.get_by_role("button", name="Take it back").press("Enter")
    expect(beside).not_to_contain_text("Same as panel 1")
    page.get_by_role("button", name="Same as …").press("Enter")
    dialog.get_by_label("The earlier panel").select_option("Page 1")
    dialog.get_by_role("button", name="Panel 1", exact=True).press("Enter")
    expect(beside).to_contain_text("Same as panel 1 of page 1.")


def test_what_became_of_a_panel_is_read_and_an_older_drawing_shown(arrive):
    page = artists_desk(arrive, 1)
    page.get_by_role("button", name="What became of it").press("Enter")
    dialog = page.get_by_role("dialog")
    expect(dialog.locator(".panel-step").last).to_contain_text("drawn for the first time")
    assert violations_in_both_schemes(page) == []
    dialog.get_by_role("button", name="Show it on the Desk").last.press("Enter")
    expect(page.get_by_label("Revision shown").locator("option:checked")).to_have_text("1, thumbnail")


def artists_desk(arrive, number: int):
    """With its first panel at hand."""
    visitor = arrive("wim")
    visitor.desk(number)
    visitor.page.keyboard.press("n")
    return visitor.page
