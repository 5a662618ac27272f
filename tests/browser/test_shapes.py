"""A note draws over the page: by mouse, by touch, by keyboard; everybody sees it, and it is moved with its note."""

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.browser.accessibility import violations_in_both_schemes

NOTE = """async (words) => {
  const answer = await fetch(`/api/v1/pages/${location.pathname.split("/").pop()}/notes?limit=500`);
  return (await answer.json()).results.find((note) => note.body === words);
}"""


def draw(page: Page, *points: tuple[float, float]) -> None:
    box = page.locator("#picture").bounding_box()
    at = [(box["x"] + x * box["width"], box["y"] + y * box["height"]) for x, y in points]
    page.mouse.move(*at[0])
    page.mouse.down()
    for place in at[1:]:
        page.mouse.move(*place, steps=4)
    page.mouse.up()


def pin(page: Page, words: str) -> dict:
    page.get_by_label("What you want to say").fill(words)
    page.get_by_role("button", name="Pin it").press("Enter")
    expect(page.locator(".notes > li", has_text=words)).to_be_visible()
    return page.evaluate(NOTE, words)


def lines_seen(page: Page) -> Locator:
    return page.locator(".note-lines .note-line-drawn")


def test_a_stroke_and_an_arrow_are_drawn_seen_by_others_and_the_last_is_taken_off(arrive):
    editor, artist = arrive("oriel"), arrive("wim")
    artist.desk(7)
    editor.desk(7)
    page = editor.page
    page.get_by_role("button", name="Draw …").click()
    expect(page.get_by_role("button", name="Stroke")).to_be_visible()  # before, one would drag a region
    draw(page, (0.2, 0.2), (0.3, 0.3), (0.4, 0.2))
    page.get_by_role("button", name="Arrow", exact=True).click()
    draw(page, (0.6, 0.6), (0.4, 0.4))
    draw(page, (0.1, 0.1), (0.9, 0.9))
    page.get_by_role("button", name="Take the last line off").click()
    assert violations_in_both_schemes(page) == []
    note = pin(page, "The rope goes like this.")
    assert [line["kind"] for line in note["lines"]] == ["stroke", "arrow"]
    assert note["lines"][1]["points"] == [pytest.approx([0.6, 0.6], abs=0.01), pytest.approx([0.4, 0.4], abs=0.01)]
    assert note["region"]["polygon"][0] == pytest.approx([0.2, 0.2], abs=0.01)
    expect(lines_seen(artist.page)).to_have_count(2)


def test_strokes_that_were_put_away_are_there_again(arrive):
    editor = arrive("oriel")
    editor.desk(3)
    page = editor.page
    page.locator("#view").press("d")
    expect(page.get_by_role("button", name="Stroke")).to_be_visible()
    draw(page, (0.2, 0.2), (0.3, 0.3), (0.4, 0.2))
    page.get_by_role("button", name="Done").click()
    page.keyboard.press("Escape")
    expect(page.locator(".is-draft")).to_have_count(0)
    page.keyboard.press("c")
    expect(page.get_by_text("What you had drawn is here again.")).to_be_visible()
    assert len(pin(page, "The wake is wider.")["lines"]) == 1


def test_an_arrow_and_an_outline_by_keyboard_alone(arrive):
    editor = arrive("oriel")
    editor.desk(6)
    page = editor.page
    page.locator("#view").press("d")
    expect(page.get_by_role("button", name="Stroke")).to_be_visible()
    for key in ("l", "Enter", *2 * ["Shift+ArrowRight"], "Enter", *2 * ["Shift+ArrowDown"], "Enter", "Enter"):
        page.keyboard.press(key)
    for key in ("w", "Enter", *3 * ["Shift+ArrowLeft"], "Enter", "Escape"):
        page.keyboard.press(key)
    expect(page.get_by_label("What you want to say")).to_be_focused()
    note = pin(page, "Round here, and back.")
    assert len(note["region"]["polygon"]) == 3
    (arrow,) = note["lines"]
    assert arrow["points"][0][0] - arrow["points"][1][0] == pytest.approx(0.15, abs=0.001)


def test_one_finger_draws_and_two_zoom(arrive):
    visitor = arrive("oriel", width=390, height=844, has_touch=True)
    visitor.desk(7)
    page = visitor.page
    page.get_by_role("button", name="Draw …").tap()
    expect(page.get_by_role("button", name="Stroke")).to_be_visible()
    box = page.locator("#picture").bounding_box()
    fingers = Fingers(page)
    fingers.move([(0.4, 0.4)], [(0.45, 0.4)], [(0.45, 0.4), (0.6, 0.6)], [(0.3, 0.3), (0.7, 0.7)])
    wider = page.locator("#picture").bounding_box()
    assert wider["width"] > 1.5 * box["width"]
    fingers.move([(0.3, 0.3)], [(0.35, 0.4)], [(0.4, 0.3)])
    assert page.locator("#picture").bounding_box() == wider
    note = pin(page, "By finger.")
    (line,) = note["lines"]
    assert line["points"][0] == pytest.approx([0.3, 0.3], abs=0.02)


class Fingers:
    """On the picture, in fractions of what is seen of it."""

    def __init__(self, page: Page) -> None:
        self.picture, self.wire = page.locator("#picture"), page.context.new_cdp_session(page)

    def move(self, *steps: list[tuple[float, float]]) -> None:
        """Each step says where the fingers are; who is new comes down, and all are lifted at the end."""
        box, before = self.picture.bounding_box(), 0
        for step in steps:
            at = [(box["x"] + x * box["width"], box["y"] + y * box["height"]) for x, y in step]
            points = [{"x": x, "y": y, "id": i} for i, (x, y) in enumerate(at)]
            kind = "touchStart" if len(step) > before else "touchMove"
            self.wire.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})
            before = len(step)
        self.wire.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
