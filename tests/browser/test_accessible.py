"""axe-core finds no violation of WCAG 2.2 AA in any state of a note, with any dialog open; and pages reflow.

The screens by themselves are in `test_screens.py`.
"""

from collections.abc import Callable

import pytest
from playwright.sync_api import Page

from tests.browser.accessibility import violations_in_both_schemes
from tests.browser.script import Script


@pytest.mark.parametrize("state", ["open", "answered", "settled", "stet", "held", "measured", "gone"])
def test_every_state_of_a_note(arrive, bent_pages, state):
    visitor = arrive("oriel")
    picked = ".note.is-measured" if state == "measured" else f'.note[data-state="{state}"]'
    if state in ("measured", "gone"):
        visitor.desk_of(bent_pages[1 if state == "gone" else 0])
        visitor.show_closed()
    else:
        visitor.desk_with_note(state)
    visitor.page.locator(f"{picked} .note-head").first.click()
    visitor.page.wait_for_selector(".note-open")
    assert violations_in_both_schemes(visitor.page) == []


def open_draft(page: Page) -> None:
    page.keyboard.press("n")
    page.keyboard.press("c")
    page.wait_for_selector(".note-editor")


DESK_DIALOGS: dict[str, Callable[[Page], None]] = {
    "moves": lambda page: page.locator('[data-key="moves"]').click(),
    "keys": lambda page: page.locator("#help").click(),
    "upload": lambda page: page.locator('[data-key="upload"]').click(),
    "words of the page": lambda page: page.locator('[data-key="write-page"]').click(),
    "withdraw": lambda page: page.locator('[data-key="withdraw"]').click(),
}
def test_where_the_system_gives_the_colours_one_sees_which_panel_is_chosen(arrive):
    visitor = arrive("oriel", forced_colors="active")
    visitor.desk(1)
    foot = "(panels) => [...new Set(panels.map((one) => getComputedStyle(one).borderBottomColor))]"
    panels = [visitor.page.locator(f'.strip-panel[aria-pressed="{is_it}"]') for is_it in ("true", "false")]
    chosen, others = (some.evaluate_all(foot) for some in panels)
    assert len(chosen) == len(others) == 1 and chosen != others


WALL_DIALOGS = ["Add a page", "Cut a sheet", "Take along", "This comic", "People"]


def test_every_dialog(arrive):
    visitor = arrive("wim")
    visitor.wall()
    for name in WALL_DIALOGS:
        visitor.page.get_by_role("button", name=name).click()
        check_dialog(visitor.page, name)
    visitor.desk(1)
    for name, open_it in DESK_DIALOGS.items():
        open_it(visitor.page)
        check_dialog(visitor.page, name)
    visitor.page.keyboard.press("n")
    visitor.page.locator('[data-key="tie"]').click()
    check_dialog(visitor.page, "still")
    open_draft(visitor.page)
    assert violations_in_both_schemes(visitor.page) == []


def check_dialog(page: Page, name: str) -> None:
    page.wait_for_selector("dialog[open]")
    # What it lists is there.
    page.wait_for_timeout(300)
    assert violations_in_both_schemes(page) == [], name
    page.keyboard.press("Escape")
    page.wait_for_selector("dialog", state="detached")


@pytest.mark.parametrize("what", ["boards", "wall", "desk", "script", "references"])
def test_nothing_is_cut_off_at_320_px(arrive, what):
    visitor = arrive("oriel", width=320, height=640)
    {"boards": lambda: visitor.go("/boards"), "wall": visitor.wall, "desk": lambda: visitor.desk(1)}.get(
        what, lambda: visitor.go(f"/boards/1/{what}"))()
    visitor.page.wait_for_load_state("networkidle")
    assert visitor.page.evaluate("document.documentElement.scrollWidth") <= 320


LONG_WORD = "Wassermühlenradschaufelbefestigungsschraubenschlüssel"
FROM_THE_RIGHT = "ارفع مستوى العين قليلاً في هذه اللوحة"
IS_SEEN = """(one) => {
  const range = document.createRange();
  range.setStart(one.firstChild, 0);
  range.setEnd(one.firstChild, 1);
  const [first, box] = [range, one].map((part) => part.getBoundingClientRect());
  return first.left >= box.left - 1 && first.right <= box.right + 1;
}"""

# Else the day that is told after such a title passes for a part of it.
DAY_STANDS_BEFORE_MONTH = """(title) => {
  const words = title.nextSibling;
  const left = (sign) => {
    const range = document.createRange();
    range.setStart(words, words.data.search(sign));
    range.setEnd(words, words.data.search(sign) + 1);
    return range.getBoundingClientRect().left;
  };
  return left(/[0-9]/) < left(/[A-Z]/);
}"""


def test_long_words_are_broken_and_words_from_the_right_begin_at_their_beginning(arrive, server):
    script = Script(server)
    board = script.send("POST", "/boards", {"title": f"{LONG_WORD} {FROM_THE_RIGHT}"})["id"]
    number = script.send("POST", f"/boards/{board}/pages", {"number": 1, "drawn_by": "wim"})["id"]
    script.send("POST", f"/pages/{number}/notes", {"tone": "ask", "body": f"{FROM_THE_RIGHT} {FROM_THE_RIGHT}"})
    visitor = arrive("wim", width=320, height=640)
    page = visitor.page
    for path in ("/boards", *(f"/boards/{board}{screen}" for screen in ("", "/script", "/pace", "/to-do")), f"/pages/{number}"):
        visitor.go(path)
        page.wait_for_load_state("networkidle")
        assert page.evaluate("document.documentElement.scrollWidth") <= 320, path
    assert page.locator(".note-start").evaluate(IS_SEEN)
    visitor.go(f"/boards/{board}/to-do")
    page.set_viewport_size({"width": 1280, "height": 800})
    assert page.locator(".to-do bdi").first.evaluate(DAY_STANDS_BEFORE_MONTH)


def test_a_page_of_many_panels_is_as_wide_as_the_telephone(arrive):
    """Its strip scrolls, the screen does not; nor does Compare."""
    visitor = arrive("oriel", width=390, height=844)
    visitor.desk(6)
    page = visitor.page
    assert page.locator(".strip-panel").count() > 5
    for path, what in (("", "Desk"), ("/compare", "Compare")):
        if path:
            page.goto(page.url + path)
            page.wait_for_selector('.compare[aria-busy="false"]')
        for width in (390, 320):
            page.set_viewport_size({"width": width, "height": 844})
            assert page.evaluate("document.documentElement.scrollWidth") == width, (what, width)


def test_text_at_twice_its_size_still_fits(arrive):
    visitor = arrive("oriel", width=1280, height=900)
    visitor.desk(1)
    visitor.page.evaluate("document.documentElement.style.fontSize = '200%'")
    visitor.page.wait_for_timeout(300)
    assert visitor.page.evaluate("document.documentElement.scrollWidth") <= 1280


def test_every_target_is_large_enough_to_hit(arrive):
    """24 × 24 px, or an inline link in a line of text (WCAG 2.2, 2.5.8)."""
    visitor = arrive("oriel", width=390, height=844)
    visitor.desk(3)
    small = visitor.page.evaluate(
        """[...document.querySelectorAll('button, a, select, input, summary')].filter((one) => {
             const box = one.getBoundingClientRect();
             return box.width > 0 && (box.width < 24 || box.height < 24) && getComputedStyle(one).clipPath === 'none';
           }).map((one) => one.outerHTML.slice(0, 100))"""
    )
    assert [html for html in small if "skip" not in html] == []
