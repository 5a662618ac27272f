"""Notes in the page's own margins: thirty of them stay apart and reachable; regions are made without dragging."""

from itertools import combinations

import pytest
from playwright.sync_api import Page, expect

PIN = """async (notes) => {
  const page = location.pathname.split("/").pop();
  const token = document.querySelector('meta[name="csrf-token"]').content;
  for (const note of notes) {
    const answer = await fetch(`/api/v1/pages/${page}/notes`, {
      method: "POST", body: JSON.stringify(note),
      headers: { "X-CSRFToken": token, "Content-Type": "application/json", "Idempotency-Key": crypto.randomUUID() },
    });
    if (!answer.ok) throw new Error(await answer.text());
  }
}"""
REGION_OF = """async (words) => {
  const answer = await fetch(`/api/v1/pages/${location.pathname.split("/").pop()}/notes?limit=500`);
  return (await answer.json()).results.find((note) => note.body === words)?.region ?? null;
}"""
# What leads to a note, the notes that stand beside the picture, and all of them.
LEADERS_AND_NOTES = """() => {
  const frame = document.getElementById("view").getBoundingClientRect();
  const notes = [...document.querySelectorAll("#notes > li")].map((one) => one.getBoundingClientRect());
  const beside = notes.filter(({ top, bottom }) => top < frame.bottom && bottom > frame.top);
  return [document.querySelectorAll("#leaders path").length, beside.length, notes.length];
}"""
IS_ON_TOP = """(one) => {
  const box = one.getBoundingClientRect();
  return one.contains(document.elementFromPoint(box.left + box.width / 2, box.top + box.height / 2));
}"""


def thirty_notes() -> list[dict]:
    """Crowded about the middle of the page, as a splash panel gets them."""
    spots = [(0.2 + 0.12 * (i % 6), 0.3 + 0.06 * (i // 6)) for i in range(30)]
    boxes = [[[x, y], [x + 0.08, y], [x + 0.08, y + 0.05], [x, y + 0.05]] for x, y in spots]
    words = "Crowded remark {}, long enough to be folded."
    return [{"region": {"polygon": box}, "tone": "ask", "body": words.format(i)} for i, box in enumerate(boxes)]


def meets(a: dict, b: dict) -> bool:
    return (a["x"] < b["x"] + b["width"] and b["x"] < a["x"] + a["width"]
            and a["y"] < b["y"] + b["height"] - 0.5 and b["y"] < a["y"] + a["height"] - 0.5)


@pytest.fixture
def crowded(arrive):
    visitor = arrive("oriel")
    visitor.desk(8)
    if visitor.page.locator(".notes > li", has_text="Crowded remark").count() == 0:
        visitor.page.evaluate(PIN, thirty_notes())
        expect(visitor.page.locator(".notes > li", has_text="Crowded remark")).to_have_count(30)
    return visitor


def test_thirty_notes_do_not_run_into_each_other(crowded):
    page = crowded.page
    for width, at_hand in ((1440, None), (1440, 17), (1024, 29), (1024, 0)):
        page.set_viewport_size({"width": width, "height": 800})
        if at_hand is not None:
            page.locator(".note-head").nth(at_hand).click()
        page.wait_for_timeout(200)
        boxes = page.locator(".notes > li").evaluate_all("(items) => items.map((item) => item.getBoundingClientRect().toJSON())")
        assert len(boxes) >= 30
        assert not [pair for pair in combinations(boxes, 2) if meets(*pair)], (width, at_hand)
        assert all(box["height"] >= 24 for box in boxes)


def test_a_key_draws_only_those_notes_anew_that_it_changes(crowded):
    page, notes = crowded.page, crowded.page.locator(".notes > li")
    page.set_viewport_size({"width": 1024, "height": 700})
    page.keyboard.press("j")
    first = page.locator('.note-head[aria-expanded="true"]').get_attribute("data-key")
    page.wait_for_selector(".note-open")
    notes.evaluate_all("(items) => { for (const item of items) item.stood = true; }")
    page.keyboard.press("j")
    expect(page.locator(f'[data-key="{first}"]')).to_have_attribute("aria-expanded", "false")
    assert notes.evaluate_all("(items) => items.filter((item) => !item.stood).length") == 2
    expect(page.locator("#notes")).to_contain_class("is-dense")


def test_the_page_and_what_can_be_done_stay_in_sight_beside_many_notes(crowded):
    page = crowded.page
    page.set_viewport_size({"width": 1024, "height": 700})
    last = page.locator(".note-head").last
    last.click()
    page.wait_for_selector(".note-open")
    last.scroll_into_view_if_needed()
    assert last.evaluate(IS_ON_TOP)
    assert page.locator("#view").evaluate("(view) => view.getBoundingClientRect().top >= -1")
    page.wait_for_timeout(100)
    leaders, beside, notes = page.evaluate(LEADERS_AND_NOTES)
    assert 0 < leaders <= beside < notes
    for button in page.locator(".ledge button:visible").all():
        button.scroll_into_view_if_needed()
        assert button.evaluate(IS_ON_TOP), button.inner_text()
    page.keyboard.press("c")
    expect(page.get_by_label("What you want to say")).to_be_focused()
    assert page.get_by_role("button", name="Pin it").evaluate(IS_ON_TOP)


def test_on_a_telephone_the_page_comes_to_the_note(crowded):
    page = crowded.page
    page.set_viewport_size({"width": 390, "height": 844})
    head = page.locator(".note-head", has_text="Crowded remark 29")
    head.scroll_into_view_if_needed()
    head.click()
    page.wait_for_selector(".note-open")
    view, mark = page.locator("#view").bounding_box(), page.locator("#drawn .hold.is-at-hand").bounding_box()
    assert view["y"] >= -1 and view["y"] + view["height"] <= 844
    assert view["x"] <= mark["x"] and mark["x"] + mark["width"] <= view["x"] + view["width"]
    assert view["y"] <= mark["y"] and mark["y"] + mark["height"] <= view["y"] + view["height"]


def test_a_region_is_moved_and_sized_by_many_keys(arrive):
    editor = arrive("oriel")
    editor.desk(3)
    page = editor.page
    page.keyboard.press("n")
    page.keyboard.press("c")
    page.get_by_label("What you want to say").fill("Sized by keys.")
    place = page.get_by_role("button", name="Move or size the region by arrow keys")
    place.press("Enter")
    for key in 6 * ["Shift+ArrowLeft"] + 5 * ["Shift+ArrowUp"] + 4 * ["ArrowRight"]:
        place.press(key)
    expect(place).to_be_focused()
    page.get_by_role("button", name="Pin it").press("Enter")
    expect(page.locator(".notes > li", has_text="Sized by keys.")).to_be_visible()
    panel = page.evaluate("""async () => {
      const url = `/api/v1/pages/${location.pathname.split("/").pop()}/panels`;
      return (await (await fetch(url)).json()).results.find((panel) => panel.order === 1).shape.polygon;
    }""")
    assert_box(page, "Sized by keys.", bounds(panel), (0.04, 0, -0.02, -0.05))


def test_two_taps_make_a_region(arrive):
    editor = arrive("oriel")
    editor.desk(1)
    page = editor.page
    editor.more_tools()
    page.get_by_role("button", name="Pin by taps").click()
    picture = page.locator("#picture").bounding_box()
    for x, y in ((0.3, 0.2), (0.6, 0.5)):
        page.mouse.click(picture["x"] + x * picture["width"], picture["y"] + y * picture["height"])
    page.get_by_label("What you want to say").fill("Between two taps.")
    page.get_by_role("button", name="Pin it").click()
    expect(page.locator(".notes > li", has_text="Between two taps.")).to_be_visible()
    assert_box(page, "Between two taps.", (0.3, 0.2, 0.6, 0.5), (0, 0, 0, 0))


def test_single_keys_can_be_kept_to_the_picture(arrive):
    editor = arrive("oriel")
    editor.desk(3)
    page = editor.page
    page.get_by_role("button", name="Keys", exact=True).click()
    page.get_by_label("Single keys work everywhere").uncheck()
    page.keyboard.press("Escape")
    page.keyboard.press("n")
    expect(page.locator('.strip-panel.is-whole[aria-pressed="true"]')).to_have_count(1)
    page.locator("#view").press("n")
    expect(page.locator('.strip-panel.is-whole[aria-pressed="true"]')).to_have_count(0)


def bounds(polygon: list) -> tuple[float, float, float, float]:
    xs, ys = [x for x, _ in polygon], [y for _, y in polygon]
    return min(xs), min(ys), max(xs), max(ys)


def assert_box(page: Page, words: str, start: tuple, moved: tuple) -> None:
    got = bounds(page.evaluate(REGION_OF, words)["polygon"])
    assert got == pytest.approx([a + b for a, b in zip(start, moved, strict=True)], abs=0.006)
