"""An artist sets the eye level of a panel where the lines tell it wrongly."""

import pytest
from playwright.sync_api import Page, expect

from tests.browser.accessibility import violations_in_both_schemes
from tests.browser.windows import HAND_MS


@pytest.fixture
def open_dialog(arrive, bent_pages):
    def open_dialog(**options) -> Page:
        visitor = arrive("wim", **options)
        visitor.desk_of(bent_pages[0])
        visitor.page.keyboard.press("n")
        visitor.page.get_by_role("button", name="Eye level").click(delay=HAND_MS)
        visitor.page.wait_for_selector("dialog[open]")
        return visitor.page

    return open_dialog


def test_it_is_set_by_number_said_beside_the_page_and_taken_back(open_dialog):
    page = open_dialog()
    for side in ("left", "right"):
        page.get_by_label(f"At the {side} side").fill("40")
    page.get_by_role("button", name="Take it as the eye level").press("Enter")
    said = page.get_by_text("Its perspective was set by hand.")
    expect(said).to_be_visible()
    page.get_by_role("button", name="Eye level").click(delay=HAND_MS)
    expect(page.get_by_label("At the left side")).to_have_value("40.0")
    page.get_by_role("button", name="Take it back").click()
    expect(said).to_have_count(0)


def test_an_end_of_the_line_is_dragged(open_dialog):
    page = open_dialog()
    before = page.get_by_label("At the left side").input_value()
    box = page.locator(".underlay-preview").bounding_box()
    x, y = box["x"] + box["width"] * 0.9, box["y"] + box["height"] * 0.5
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x, box["y"] + box["height"] * 0.25)
    page.mouse.up()
    assert float(page.get_by_label("At the right side").input_value()) == pytest.approx(25, abs=1.5)
    assert page.get_by_label("At the left side").input_value() == before


def test_the_dialog_is_accessible(open_dialog):
    assert violations_in_both_schemes(open_dialog()) == []
