"""The Desk under a finger: one scrolls the screen while all of it is in sight, two zoom, and the picture stays in its frame."""

from collections.abc import Iterator
from contextlib import contextmanager

import pytest
from playwright.sync_api import CDPSession, Page

TELEPHONE = {"has_touch": True, "is_mobile": True}
Point = tuple[float, float]


@contextmanager
def fingers(page: Page, *at: Point) -> Iterator["Fingers"]:
    session = page.context.new_cdp_session(page)
    touch(session, "touchStart", at)
    try:
        yield Fingers(page, session, at)
    finally:
        touch(session, "touchEnd", ())
        page.wait_for_timeout(100)


class Fingers:
    def __init__(self, page: Page, session: CDPSession, at: tuple[Point, ...]) -> None:
        self.page, self.session, self.at = page, session, at

    def move(self, *by: Point, steps: int = 8) -> None:
        for k in range(1, steps + 1):
            moved = [(x + dx * k / steps, y + dy * k / steps) for (x, y), (dx, dy) in zip(self.at, by, strict=True)]
            touch(self.session, "touchMove", moved)
            self.page.wait_for_timeout(16)


def touch(session: CDPSession, kind: str, at) -> None:
    points = [{"x": x, "y": y, "id": k} for k, (x, y) in enumerate(at)]
    session.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})


def box(page: Page, selector: str) -> dict:
    return page.locator(selector).evaluate("(one) => one.getBoundingClientRect().toJSON()")


# Of both at one moment: a swipe swings out.
IN_FRAME = """() => {
  const [picture, frame] = ["picture", "view"].map((id) => document.getElementById(id).getBoundingClientRect());
  return { top: picture.top - frame.top, below: picture.bottom - frame.top, width: picture.width, height: frame.height };
}"""


def test_a_finger_scrolls_the_screen_until_the_picture_is_larger_than_its_frame(arrive):
    visitor = arrive("oriel", 844, 390, **TELEPHONE)
    visitor.desk(4)
    page, spot = visitor.page, (210, 270)
    assert box(page, "#picture")["bottom"] < 390  # the whole page is seen as one comes
    before = page.evaluate(IN_FRAME)
    with fingers(page, spot) as one:
        one.move((0, -120))
    assert page.evaluate("scrollY") > 60
    assert page.evaluate(IN_FRAME)["top"] == pytest.approx(before["top"], abs=1)
    page.wait_for_timeout(300)
    page.evaluate("scrollTo({ top: 0, behavior: 'instant' })")
    with fingers(page, (spot[0] - 20, spot[1]), (spot[0] + 20, spot[1])) as two:
        two.move((-60, 0), (60, 0))
    assert page.evaluate(IN_FRAME)["width"] > 2 * before["width"]
    for _ in range(4):
        with fingers(page, spot) as one:
            one.move((0, -200))
    assert page.evaluate("scrollY") < 20
    after = page.evaluate(IN_FRAME)
    assert after["below"] >= after["height"] / 2 - 1


def test_a_note_that_is_opened_comes_in_sight_under_the_picture_and_the_focus_stays(arrive):
    visitor = arrive("oriel", 390, 844, reduced_motion="reduce")
    visitor.desk(5)
    page = visitor.page
    head = page.locator(".note-head", has_text="Height off")
    head.click()
    page.wait_for_selector(".note-open")
    page.wait_for_timeout(200)
    picture, words = box(page, "#view"), box(page, ".note-words")
    assert head.evaluate("(one) => one === document.activeElement")
    assert picture["top"] == pytest.approx(0, abs=1)
    assert picture["bottom"] <= head.bounding_box()["y"] < picture["bottom"] + 40
    assert words["bottom"] <= 844
