"""Panels are corrected on the Desk: by mouse, by touch and by keys, and what is kept is what the server says."""

from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

from tests.browser.accessibility import violations_in_both_schemes
from tests.browser.script import Script
from tests.browser.test_screens import shoot
from tests.flow.conftest import drawn_array

TWO = [(0.06, 0.05, 0.94, 0.47), (0.06, 0.52, 0.94, 0.95)]
numbers = iter(range(50, 90))


Drawn = tuple[Script, int, dict]  # script, page, revision


def new_page(server: str) -> Drawn:
    """With two panels, one over the other."""
    script = Script(server)
    page = script.add_page(next(numbers))
    return script, page, script.upload(page, drawn_array(TWO))


@pytest.fixture
def drawn(server: str) -> Drawn:
    return new_page(server)


@pytest.fixture(scope="module")
def untouched(server: str) -> Drawn:
    """For all who keep nothing."""
    return new_page(server)


@pytest.fixture
def correcting(arrive) -> Callable[..., Page]:
    def open_page(drawn: Drawn, **options) -> Page:
        visitor = arrive("wim", **options)
        visitor.desk_of(drawn[1])
        if (more := visitor.page.get_by_role("button", name="More tools")).is_visible():
            more.click()
        visitor.page.get_by_role("button", name="Correct panels").click()
        expect(visitor.page.locator(".edited")).to_have_count(2)
        return visitor.page

    return open_page


def at(page: Page, x: float, y: float) -> tuple[float, float]:
    """A point of the sheet on the screen, from page coordinates."""
    box = page.locator("#picture").bounding_box()
    return box["x"] + x * box["width"], box["y"] + y * box["height"]


def drag(page: Page, start: tuple[float, float], end: tuple[float, float]) -> None:
    page.mouse.move(*at(page, *start))
    page.mouse.down()
    page.mouse.move(*at(page, *((a + b) / 2 for a, b in zip(start, end, strict=True))))
    page.mouse.move(*at(page, *end))
    page.mouse.up()


def keep(page: Page, drawn) -> list[dict]:
    """Keeps them; the panels as the server has them."""
    script, _, revision = drawn
    page.get_by_role("button", name="Keep these panels").click()
    expect(page.get_by_role("button", name="Correct panels")).to_be_visible()
    return in_order(script.send("GET", f"/revisions/{revision['id']}")["panels"])


def in_order(panels: list[dict]) -> list[dict]:
    return sorted(panels, key=lambda panel: panel["order"])


def boxes(panels: list[dict]) -> list[list[float]]:
    return [[min(x for x, _ in one["polygon"]), min(y for _, y in one["polygon"]), max(x for x, _ in one["polygon"]),
             max(y for _, y in one["polygon"])] for one in panels]


def is_left_only_when_asked(page: Page) -> bool:
    return page.evaluate("!dispatchEvent(new Event('beforeunload', { cancelable: true }))")


def first_id(drawn) -> int:
    return in_order(drawn[2]["panels"])[0]["id"]


def test_corners_and_edges_are_dragged(correcting, drawn):
    page = correcting(drawn)
    page.mouse.click(*at(page, 0.5, 0.25))
    left, top, right, bottom = boxes(in_order(drawn[2]["panels"]))[0]
    drag(page, (left, top), (left + 0.1, top + 0.1))
    drag(page, ((left + right) / 2, bottom), ((left + right) / 2, bottom + 0.02))
    panels = keep(page, drawn)
    assert any(corner == pytest.approx([left + 0.1, top + 0.1], abs=0.01) for corner in panels[0]["polygon"])
    assert boxes(panels)[0][3] == pytest.approx(bottom + 0.02, abs=0.01)
    assert [panel["by_hand"] for panel in panels] == [True, True]
    assert panels[0]["id"] == first_id(drawn)


def test_a_panel_is_cut_in_two_by_a_line_and_another_is_added_by_dragging(correcting, drawn):
    page = correcting(drawn)
    page.get_by_role("button", name="Cut in two").click()
    drag(page, (0.5, 0.54), (0.5, 0.93))
    expect(page.locator(".edited")).to_have_count(3)
    page.get_by_role("button", name="Add").click()
    drag(page, (0.2, 0.1), (0.4, 0.2))
    expect(page.locator(".edited")).to_have_count(4)
    panels = keep(page, drawn)
    assert len(panels) == 4
    assert sorted(box[2] - box[0] < 0.5 for box in boxes(panels)) == [False, True, True, True]


def test_two_panels_are_merged_and_the_first_goes_on(correcting, drawn):
    page = correcting(drawn)
    page.mouse.click(*at(page, 0.5, 0.25))
    page.get_by_role("button", name="Merge with …").click()
    page.mouse.click(*at(page, 0.5, 0.75))
    expect(page.locator(".edited")).to_have_count(1)
    (panel,) = keep(page, drawn)
    assert panel["id"] == first_id(drawn)
    assert boxes([panel])[0] == pytest.approx([0.06, 0.05, 0.94, 0.95], abs=0.02)


def test_the_order_is_changed_by_dragging_in_the_strip(correcting, drawn):
    page = correcting(drawn)
    items = page.locator(".edit-item")
    start, end = items.nth(0).bounding_box(), items.nth(1).bounding_box()
    page.mouse.move(start["x"] + 20, start["y"] + 20)
    page.mouse.down()
    page.mouse.move(start["x"] + 40, start["y"] + 20)
    page.mouse.move(end["x"] + end["width"], end["y"] + 20)
    page.mouse.up()
    expect(page.locator(".edit-item").nth(1)).to_have_attribute("aria-pressed", "true")
    panels = keep(page, drawn)
    assert panels[1]["id"] == first_id(drawn)


def test_all_of_it_is_done_by_keys(correcting, drawn):
    page = correcting(drawn)
    for key in ("n", "h", "ArrowDown", "Enter"):
        page.keyboard.press(key)
    expect(page.locator(".edited")).to_have_count(3)
    for key in ("n", "n", "1", "c", "ArrowRight", "ArrowRight", "c", "c", "c", "c", "a"):
        page.keyboard.press(key)
    expect(page.locator(".edited")).to_have_count(4)
    for key in ("Delete", "u", "Delete", "n", "n", "m", "u"):
        page.keyboard.press(key)
    expect(page.locator(".edited")).to_have_count(3)
    page.locator("#view").press("Enter")
    expect(page.get_by_role("button", name="Correct panels")).to_be_visible()
    script, _, revision = drawn
    panels, lower = in_order(script.send("GET", f"/revisions/{revision['id']}")["panels"]), in_order(revision["panels"])[1]
    found = boxes(panels)
    assert found[0][1] > 0.5
    assert panels[0]["polygon"][0] == pytest.approx([lower["polygon"][0][0] + 0.02, lower["polygon"][0][1]], abs=1e-6)
    assert panels[1]["id"] == first_id(drawn)
    assert found[1][3] == pytest.approx(found[2][1], abs=1e-6)


def test_nothing_has_to_be_dragged_by_touch(correcting, drawn):
    page = correcting(drawn, width=390, height=844, has_touch=True)
    page.get_by_role("button", name="Cut in two").tap()
    for point in ((0.5, 0.06), (0.5, 0.46)):
        page.touchscreen.tap(*at(page, *point))
    expect(page.locator(".edited")).to_have_count(3)
    page.get_by_role("button", name="Later").tap()
    page.get_by_role("button", name="Delete").tap()
    expect(page.locator(".edited")).to_have_count(2)
    assert len(keep(page, drawn)) == 2


def test_escape_leaves_the_panels_as_they_were_and_asks_first(correcting, untouched):
    page = correcting(untouched)
    page.keyboard.press("n")
    page.keyboard.press("Delete")
    page.keyboard.press("Escape")
    page.get_by_role("dialog").get_by_role("button", name="Leave them").click()
    expect(page.get_by_role("button", name="Correct panels")).to_be_visible()
    script, _, revision = untouched
    assert [panel["by_hand"] for panel in script.send("GET", f"/revisions/{revision['id']}")["panels"]] == [False, False]


def test_who_corrected_first_is_not_overwritten(correcting, drawn, screens):
    script, number, revision = drawn
    first, second = correcting(drawn), correcting(drawn)
    for key in ("n", "ArrowRight", "n", "Shift+ArrowUp"):
        first.keyboard.press(key)
    assert not is_left_only_when_asked(second)
    for key in ("n", "n", "ArrowRight"):
        second.keyboard.press(key)
    assert is_left_only_when_asked(second)
    upper, lower = keep(first, drawn)
    second.get_by_role("button", name="Keep these panels").click()
    expect(second.locator(".slip.fault")).to_contain_text("Somebody corrected these panels meanwhile.")
    expect(second.locator(".edited-by-another")).to_have_count(1)
    shoot(second, screens, "correct-panels-met")
    # A page that changed otherwise stands in nobody's way.
    script.send("PATCH", f"/pages/{number}", {"said": "PIM: Oh."}, version=script.send("GET", f"/pages/{number}")["version"])
    found = keep(second, drawn)
    assert not is_left_only_when_asked(second)
    assert found[0]["polygon"] == upper["polygon"]
    own = in_order(revision["panels"])[1]
    assert boxes(found)[1] == pytest.approx([v + by for v, by in zip(boxes([own])[0], (0.01, 0, 0.01, 0), strict=True)], abs=1e-6)
    assert boxes(found)[1] != pytest.approx(boxes([lower])[0], abs=1e-6)


def test_a_reader_corrects_nothing(arrive, untouched):
    visitor = arrive("tace")
    visitor.desk_of(untouched[1])
    expect(visitor.page.get_by_role("button", name="Correct panels")).to_have_count(0)


@pytest.mark.parametrize("width", [1440, 390])
def test_it_is_accessible_and_drawn(correcting, untouched, screens, width):
    page = correcting(untouched, width=width, height=900 if width > 1000 else 844)
    page.keyboard.press("n")
    page.keyboard.press("c")
    page.wait_for_timeout(300)
    shoot(page, screens, f"correct-panels-{width}")
    assert violations_in_both_schemes(page) == []
    page.keyboard.press("?")
    page.wait_for_selector("dialog[open]")
    assert violations_in_both_schemes(page) == []


def test_a_panel_that_the_newest_picture_lost_is_told_and_given_back_its_place(arrive, drawn):
    script, number, revision = drawn
    lower = max(revision["panels"], key=lambda panel: panel["order"])["id"]
    [row] = [row for row in script.send("GET", f"/pages/{number}/panels")["results"] if row["id"] == lower]
    script.send("PATCH", f"/panels/{lower}", {"said": "PIM: Mind the edge!"}, version=row["version"])
    # Laid out anew, in other places: nobody could tell which panel is which.
    script.upload(number, drawn_array([(0.06, 0.05, 0.3, 0.95), (0.35, 0.05, 0.6, 0.95), (0.65, 0.05, 0.94, 0.95)], seed=3))
    visitor = arrive("wim")
    visitor.go(f"/pages/{number}")
    page = visitor.page
    lost = page.locator(".panel-words li", has_text="Mind the edge!")
    expect(lost).to_contain_text("not on this picture")
    page.get_by_role("button", name="It is on the picture …").click()
    page.get_by_label("Panel of the picture", exact=True).select_option(label="Panel 2, nothing written")
    assert violations_in_both_schemes(page) == []
    page.get_by_role("button", name="It is this one").click()
    expect(lost).not_to_contain_text("not on this picture")
    expect(lost.get_by_role("heading")).to_have_text("Panel 2")
    expect(page.locator(".panel-words li")).to_have_count(3)
