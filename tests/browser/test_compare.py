"""Two revisions of a page over one another, as a reviewer looks at them."""

import cv2
import numpy as np
import pytest
from playwright.sync_api import Page, expect

from tests.browser.accessibility import violations, violations_in_both_schemes
from tests.browser.bent_room import two_rooms
from tests.browser.script import Script
from tests.browser.test_screens import shoot

MODES = ("Fade", "Split", "Flip", "What differs", "Side by side")
# The second scan lies so many px further right and down, and a line was drawn into its lower panel.
SHIFT_PX = (34, 20)
NEW_LINE = ((300, 1500), (1000, 1560))


@pytest.fixture(scope="module")
def scans(server: str) -> tuple[int, int, int]:
    """A page, and two scans of it."""
    script = Script(server)
    page = script.add_page(30)
    first = two_rooms()
    second = cv2.line(two_rooms(), *NEW_LINE, 0, 7)
    second = cv2.warpAffine(second, np.float64([[1, 0, SHIFT_PX[0]], [0, 1, SHIFT_PX[1]]]), second.shape[::-1], borderValue=255)
    revisions = [script.upload(page, picture, stage="pencil")["id"] for picture in (first, second)]
    script.wait_for(lambda: script.send("GET", f"/revisions/{revisions[1]}")["changes"])
    return page, revisions[0], revisions[1]


def lie_there(page: Page) -> None:
    page.wait_for_selector('#compare[aria-busy="false"]')


def open_pair(visitor, scans) -> Page:
    visitor.go(f"/pages/{scans[0]}/compare?before={scans[1]}&after={scans[2]}")
    lie_there(visitor.page)
    return visitor.page


def darkest(page: Page, canvas: str, x: float, y: float) -> int:
    """The darkest value near a point, in fractions of the canvas."""
    return page.evaluate(
        """([id, x, y]) => {
             const canvas = document.getElementById(id);
             const seen = canvas.getContext('2d').getImageData(x * canvas.width - 4, y * canvas.height - 4, 9, 9).data;
             return Math.min(...seen.filter((_, i) => i % 4 === 0));
           }""", [canvas, x, y],
    )


def ink_at(page: Page, x: float, y: float) -> list[int]:
    """Mean red and blue of the difference near a point."""
    return page.evaluate(
        """([x, y]) => {
             const canvas = document.getElementById('differs');
             const seen = canvas.getContext('2d').getImageData(x * canvas.width - 3, y * canvas.height - 3, 7, 7).data;
             const mean = (k) => seen.filter((_, i) => i % 4 === k).reduce((sum, v) => sum + v, 0) / (seen.length / 4);
             return [mean(0), mean(2)];
           }""", [x, y],
    )


def after_shift(x_px: float, y_px: float) -> tuple[float, float]:
    return (x_px + SHIFT_PX[0]) / 1400, (y_px + SHIFT_PX[1]) / 2000


def test_the_older_scan_is_laid_on_the_newer_one_or_left_as_it_was_uploaded(arrive, scans):
    page = open_pair(arrive("oriel"), scans)
    frame, frame_as_uploaded = after_shift(70, 500), (70 / 1400, 500 / 2000)
    assert darkest(page, "newer", *frame) < 80
    assert (darkest(page, "older", *frame) < 80, darkest(page, "older", *frame_as_uploaded) > 200) == (True, True)
    page.get_by_label("Laid on one another").uncheck()
    page.wait_for_function("document.getElementById('older').getContext('2d').getImageData(0, 0, 1, 1).data[3] === 255")
    assert darkest(page, "older", *frame_as_uploaded) < 80


def test_what_was_drawn_since_is_blue_and_the_rest_is_neither(arrive, scans):
    page = open_pair(arrive("oriel"), scans)
    page.get_by_role("button", name="What differs").click()
    expect(page.locator(".ink.is-new")).to_contain_text("%")
    red, blue = ink_at(page, *after_shift(650, 1530))
    assert blue > red + 30
    red, blue = ink_at(page, *after_shift(70, 500))
    assert abs(blue - red) < 20 and blue < 235


def test_each_panel_says_what_changed_and_is_stepped_to(arrive, scans):
    page = open_pair(arrive("oriel"), scans)
    words = page.locator(".compare-panel [data-word]")
    expect(words).to_have_count(2)
    assert words.first.inner_text() == "same"
    before = page.locator("#newer").get_attribute("style")
    page.keyboard.press("n")
    page.keyboard.press("n")
    expect(page.locator(".compare-panel").nth(2)).to_have_attribute("aria-pressed", "true")
    assert page.locator("#newer").get_attribute("style") != before
    assert page.locator("#newer").get_attribute("style") == page.locator("#older").get_attribute("style")
    page.keyboard.press("0")
    expect(page.locator(".compare-panel").first).to_have_attribute("aria-pressed", "true")


def test_everything_is_done_by_the_keyboard(arrive, scans):
    page = open_pair(arrive("oriel"), scans)
    for number, mode in enumerate(MODES, start=1):
        page.keyboard.press(str(number))
        expect(page.get_by_role("button", name=mode)).to_have_attribute("aria-pressed", "true")
    expect(page.locator("#pane-two #newer")).to_be_visible()
    page.keyboard.press("2")
    for _ in range(4):
        page.keyboard.press(".")
    expect(page.get_by_label("Where the edge stands")).to_have_value("70")
    assert "70%" in page.locator("#layer-newer").evaluate("one => one.style.clipPath")
    page.keyboard.press("3")
    page.keyboard.down("f")
    expect(page.get_by_text("Seen: 1, pencil")).to_be_visible()
    expect(page.locator("#newer")).to_be_hidden()
    page.keyboard.up("f")
    expect(page.get_by_text("Seen: 2, pencil")).to_be_visible()
    page.keyboard.press("r")
    expect(page.get_by_label("Laid on one another")).not_to_be_checked()
    page.keyboard.press("?")
    expect(page.get_by_role("dialog")).to_contain_text("held down: the older one")


def test_the_sheet_is_flipped_while_the_button_is_held_and_the_edge_is_dragged(arrive, scans):
    page = open_pair(arrive("oriel"), scans)
    page.get_by_role("button", name="Flip").click()
    page.get_by_role("button", name="Hold to see the older one").hover()
    page.mouse.down()
    expect(page.locator("#newer")).to_be_hidden()
    page.mouse.up()
    expect(page.locator("#newer")).to_be_visible()
    page.get_by_role("button", name="Split").click()
    box = page.locator("#pane-one").bounding_box()
    page.locator("#edge").hover()
    page.mouse.down()
    page.mouse.move(box["x"] + 0.25 * box["width"], box["y"] + 100)
    page.mouse.up()
    assert abs(int(page.get_by_label("Where the edge stands").input_value()) - 25) <= 1


def test_it_opens_from_the_desk_and_another_pair_is_in_the_address(arrive):
    visitor = arrive("tace")
    visitor.desk(1)
    visitor.page.get_by_role("link", name="Compare").click()
    lie_there(visitor.page)
    visitor.page.get_by_label("Older revision").select_option(index=2)
    visitor.page.wait_for_url("**/compare?before=*&after=*")
    older = visitor.page.get_by_label("Older revision").locator("option:checked").inner_text()
    visitor.page.reload()
    lie_there(visitor.page)
    assert visitor.page.get_by_label("Older revision").locator("option:checked").inner_text() == older


def test_a_page_with_one_picture_says_what_will_be_here(arrive, server):
    script = Script(server)
    page = script.add_page(49)
    visitor = arrive("oriel")
    visitor.go(f"/pages/{page}/compare")
    expect(visitor.page.locator("#pair")).to_contain_text("There are not two pictures of this page yet.")
    assert violations(visitor.page) == []


def middle_of_mark(page: Page, layer: str) -> tuple[float, float]:
    """Of the marks that hold a spot, in px of the window."""
    box = page.locator(f"#{layer} .hold.is-person .over").first.bounding_box()
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def test_a_note_is_found_on_both_sheets_and_settled_where_it_is_seen(arrive, scans, server):
    script = Script(server)
    words = "The lower room needs a line of light."
    note = script.send("POST", f"/pages/{scans[0]}/notes", {
        "tone": "must", "body": words, "region": {"point": [0.3, 0.7]}, "revision": scans[1], "held": False})
    visitor = arrive("oriel")
    visitor.go(f"/pages/{scans[0]}/compare?before={scans[1]}&after={scans[2]}&note={note['id']}")
    page = visitor.page
    lie_there(page)
    expect(page.locator("#notes .note.is-at-hand .note-words")).to_have_text(words)
    page.get_by_role("button", name="Whole page").last.click()
    on_both = middle_of_mark(page, "notes-one")
    page.keyboard.press("5")
    expect(page.locator("#notes-two .hold.is-person")).to_have_count(1)
    first, second = middle_of_mark(page, "notes-one"), middle_of_mark(page, "notes-two")
    panes = [page.locator(f"#pane-{name}").bounding_box() for name in ("one", "two")]
    assert abs((first[0] - panes[0]["x"]) - (second[0] - panes[1]["x"])) < 2
    assert abs(first[1] - second[1]) < 2
    # Left as they were uploaded, the newer sheet has it further right by the shift of the scan.
    page.keyboard.press("r")
    page.wait_for_timeout(200)
    first, second = middle_of_mark(page, "notes-one"), middle_of_mark(page, "notes-two")
    width = page.locator("#newer").bounding_box()["width"]
    apart = (second[0] - panes[1]["x"]) - (first[0] - panes[0]["x"])
    assert abs(apart - width * SHIFT_PX[0] / 1400) < 2
    page.keyboard.press("r")
    page.keyboard.press("1")
    page.wait_for_timeout(200)
    assert middle_of_mark(page, "notes-one") == pytest.approx(on_both, abs=1)
    page.keyboard.press("m")
    expect(page.locator("#notes")).to_be_hidden()
    expect(page.locator("#notes-one .hold")).to_have_count(0)
    page.keyboard.press("m")
    page.get_by_role("button", name="Settle", exact=True).click()
    expect(page.get_by_text("Settled.")).to_be_visible()
    expect(page.locator("#notes .note.is-at-hand")).to_have_attribute("data-state", "settled")
    assert script.send("GET", f"/notes/{note['id']}")["state"] == "settled"
    page.keyboard.press("u")
    expect(page.locator("#notes .note.is-at-hand")).to_have_attribute("data-state", "open")
    page.get_by_label("Reply").fill("Seen from here.")
    page.get_by_role("button", name="Send reply").click()
    expect(page.locator("#notes .replies li")).to_have_count(1)
    assert violations_in_both_schemes(page) == []
    page.get_by_role("link", name="On the Desk").click()
    page.wait_for_url(f"**/pages/{scans[0]}?note={note['id']}")


@pytest.mark.parametrize("width", [1440, 390])
def test_every_way_of_looking_is_accessible_and_drawn(arrive, scans, screens, width):
    page = open_pair(arrive("oriel", width=width, height=900 if width > 1000 else 844), scans)
    for mode in MODES:
        page.get_by_role("button", name=mode).click()
        page.wait_for_timeout(400)
        assert violations_in_both_schemes(page) == [], mode
        shoot(page, screens, f"compare-{mode.lower().replace(' ', '-')}-{width}")
    page.keyboard.press("?")
    page.wait_for_selector("dialog[open]")
    assert violations_in_both_schemes(page) == []


def test_nothing_of_it_is_cut_off_at_320_px_or_with_text_at_twice_its_size(arrive, scans):
    page = open_pair(arrive("oriel", width=320, height=640), scans)
    assert page.evaluate("document.documentElement.scrollWidth") <= 320
    page = open_pair(arrive("oriel", width=1280, height=900), scans)
    page.evaluate("document.documentElement.style.fontSize = '200%'")
    page.wait_for_timeout(300)
    assert page.evaluate("document.documentElement.scrollWidth") <= 1280
