"""An artist lays a still under its panel by two points of each: by mouse, by touch, by keyboard."""

import pytest
from playwright.sync_api import Page, expect

from tests.browser.accessibility import violations_in_both_schemes
from tests.browser.windows import HAND_MS

PLACE = """async () => {
  const page = location.pathname.split("/").pop();
  const panels = (await (await fetch(`/api/v1/pages/${page}/panels`)).json()).results;
  return panels.find((panel) => panel.order === 1).still_place;
}"""


@pytest.fixture
def open_dialog(arrive):
    def open_dialog(**options) -> Page:
        visitor = arrive("wim", **options)
        visitor.desk(1)
        visitor.page.locator("#view").press("n")
        reopen(visitor.page)
        return visitor.page

    return open_dialog


def reopen(page: Page) -> None:
    page.get_by_role("button", name="Place it under the panel").click(delay=HAND_MS)
    page.wait_for_selector("dialog .two-points")


def at(picture, x: float, y: float) -> tuple[float, float]:
    box = picture.bounding_box()
    return box["x"] + x * box["width"], box["y"] + y * box["height"]


def test_points_by_keyboard_and_mouse_lay_it_under_and_it_is_taken_off(open_dialog):
    page = open_dialog()
    save, (panel, still) = page.get_by_role("button", name="Place the still"), page.locator(".still-pair .two-points").all()
    expect(save).to_be_disabled()
    panel.focus()
    for key in (*2 * ["Shift+ArrowLeft"], "Enter", *4 * ["Shift+ArrowRight"], "Shift+ArrowDown", "Enter"):
        page.keyboard.press(key)
    expect(page.get_by_text("Points to set: 2 in the still.")).to_be_visible()
    for place in ((0.3, 0.5), (0.7, 0.6)):
        page.mouse.click(*at(still, *place))
    expect(page.get_by_label("The still laid over the panel")).to_be_visible()
    assert violations_in_both_schemes(page) == []
    save.press("Enter")
    expect(page.locator(".still")).to_contain_text("It lies under the panel.")
    # It is seen there when it is asked for.
    page.locator("body").press("9")
    expect(page.locator(".overlay-still").first).to_be_visible()
    assert violations_in_both_schemes(page) == []
    assert page.evaluate(PLACE)["in_still"][0] == pytest.approx([0.3, 0.5], abs=0.01)
    reopen(page)
    expect(page.locator(".point-name")).to_have_count(4)
    page.get_by_role("button", name="Take it off").press("Enter")
    expect(page.locator(".still")).not_to_contain_text("It lies under the panel.")


def test_it_is_found_looked_at_and_confirmed_by_one_key(open_dialog):
    page = open_dialog()
    page.get_by_role("button", name="Find it").press("Enter")
    expect(page.get_by_text("Found. Is this how it lies?")).to_be_visible(timeout=60_000)
    expect(page.get_by_role("button", name="Place the still")).to_be_focused()
    assert page.evaluate(PLACE) is None
    assert violations_in_both_schemes(page) == []
    page.keyboard.press("Enter")
    expect(page.locator(".still")).to_contain_text("It lies under the panel.")
    assert page.evaluate(PLACE)["by"] == "registration"
    reopen(page)
    page.get_by_role("button", name="Take it off").press("Enter")
    expect(page.locator(".still")).not_to_contain_text("It lies under the panel.")


def test_points_by_touch_and_two_at_one_place_are_refused(open_dialog):
    page = open_dialog(width=390, height=844, has_touch=True)
    panel, still = page.locator(".still-pair .two-points").all()
    for picture, places in ((panel, ((0.2, 0.3), (0.8, 0.8))), (still, ((0.5, 0.5), (0.501, 0.5)))):
        picture.scroll_into_view_if_needed()
        for place in places:
            page.touchscreen.tap(*at(picture, *place))
    expect(page.get_by_text("The two points in the still lie too near to each other")).to_be_visible()
    expect(page.get_by_role("button", name="Place the still")).to_be_disabled()
