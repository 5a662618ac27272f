"""How long a note takes from one browser to another, and how soon a Desk can be worked on, by the time its one picture takes."""

import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path

import numpy as np
from PIL import Image
from playwright.sync_api import Browser, BrowserContext, sync_playwright

from fixtures.demo_plans import page_plans
from fixtures.page_drawing import draw_page
from tests.bench.rows import Row, at_most
from tests.browser.conftest import PASSWORDS
from tests.browser.demo_server import running
from tests.browser.script import Script
from tests.browser.windows import BROWSERS, QUIET
from tests.made_once import manage

NOTES, VISITS = 12, 7
# Longer than it takes until what a screen fetches ahead has come.
FETCHED_AHEAD_MS = 1000
NEW_PICTURE, FIRST_VISIT, NOTHING_KEPT = "of a new picture", "on the first visit", "with no file kept from before"
TWO_PEOPLE = """
from django.contrib.auth import get_user_model
from board.access import seat_on
from board.actions.boards import create_board
from board.actions.members import add_member
make = get_user_model().objects.create_user
wim, _ = make("wim", password={wim!r}), make("oriel", password={oriel!r})
board = create_board(user=wim, title="Bench")
add_member(seat=seat_on(wim, board), username="oriel", roles=["editor"])
"""
# When a note with these words comes in, by the clock that all browsers of this machine share.
SEEN = """(words) => new Promise((seen) => {
  const look = () => document.querySelector('#notes').textContent.includes(words) && seen(Date.now());
  new MutationObserver(look).observe(document.querySelector('#notes'), { childList: true, subtree: true });
})"""
# From the way to the screen until its picture, its notes and its keys are there; the picture alone, asked for as the Desk asks.
DESK_STANDS = """() => new Promise((stands) => {
  const isThere = () => ['.picture.is-placed', '.notes > li', '.ledge'].every((one) => document.querySelector(one)) 
    && document.querySelector('#picture').complete;
  const look = () => isThere() ? stands(performance.now()) : requestAnimationFrame(look);
  look();
})"""
PICTURE_ALONE = """async (src) => {
  const image = new Image();
  const begun = performance.now();
  image.src = src;
  await image.decode();
  return performance.now() - begun;
}"""
AT_FULL_SPEED = {"latency": 0, "downloadThroughput": -1, "uploadThroughput": -1, "offline": False}
LINES = {  # as a telephone has them, and this machine's own
    "a line of 10 Mbit/s, 40 ms": {"latency": 40, "downloadThroughput": 1.25e6, "uploadThroughput": 1.25e6, "offline": False},
    "this machine's own line": AT_FULL_SPEED,
}


def rows() -> Iterator[Row]:
    with a_board() as (address, page), a_browser() as browser:
        waits = note_waits(browser, address, page)
        yield at_most(f"A note in one browser is seen in another, slowest of {NOTES}", max(waits), 1.0, "s")
        yield Row("The same, median", float(np.median(waits)), "s")
        for coming in (NEW_PICTURE, FIRST_VISIT, NOTHING_KEPT):
            for name, line in LINES.items():
                seen = list(visits(browser, address, page, line, coming))
                desk, picture = (float(np.median(one)) for one in zip(*seen, strict=True))
                yield at_most(f"Desk {coming}, by its picture alone, {name}", desk / picture, 1.5)
                yield Row("The same, the picture fetched and decoded alone", picture / 1000, "s")


@contextmanager
def a_board() -> Iterator[tuple[str, int]]:
    """A running Underblue with an artist, an editor and one page that is measured."""
    with tempfile.TemporaryDirectory() as folder:
        var = Path(folder) / "var"
        passwords = {name: PASSWORDS[name] for name in ("wim", "oriel")}
        for command in (["migrate"], ["collectstatic", "--no-input"], ["shell", "-c", TWO_PEOPLE.format(**passwords)]):
            manage(var, *command)
        with running(var) as address:
            page = Script(address).add_page(1)
            upload(address, page)
            yield address, page


def upload(address: str, page: int) -> None:
    Script(address).upload(page, np.asarray(final_page().convert("RGB"))[:, :, ::-1], stage="final")


@cache
def final_page() -> Image.Image:
    return draw_page(page_plans()["page-01-final-2.png"])[0]


@contextmanager
def a_browser() -> Iterator[Browser]:
    path = next(found for name in BROWSERS if (found := shutil.which(name)))
    with sync_playwright() as playwright:
        yield playwright.chromium.launch(executable_path=path, args=QUIET)


def signed_in(browser: Browser, address: str, name: str) -> BrowserContext:
    context = browser.new_context(viewport={"width": 1440, "height": 900})
    page = context.new_page()
    page.goto(f"{address}/sign-in")
    page.get_by_label("Name").fill(name)
    page.get_by_label("Password").fill(PASSWORDS[name])
    page.get_by_role("button", name="Sign in").click()
    page.wait_for_url("**/boards")
    return context


def note_waits(browser: Browser, address: str, page: int) -> list[float]:
    """Seconds from the click on “Pin it” in one browser until the note stands in the other."""
    desks = []
    for name in ("oriel", "wim"):
        desk = signed_in(browser, address, name).pages[0]
        desk.goto(f"{address}/pages/{page}")
        desk.wait_for_selector(".notes > li")
        desks.append(desk)
    editor, artist = desks
    waits = []
    for number in range(NOTES):
        words = f"Note number {number} of the bench."
        artist.evaluate(f"(words) => {{ window.seen = ({SEEN})(words); }}", words)
        editor.get_by_role("button", name="Note on the page").click()
        editor.get_by_label("What you want to say").fill(words)
        # Each at another moment between two looks at the log.
        editor.wait_for_timeout(137 * (number % 5))
        pinned = editor.get_by_role("button", name="Pin it").evaluate("(button) => { button.click(); return Date.now(); }")
        waits.append((artist.evaluate("window.seen") - pinned) / 1000)
        editor.locator(".notes > li", has_text=words).wait_for()
    for desk in desks:
        desk.context.close()
    return waits


def visits(browser: Browser, address: str, page: int, line: dict, coming: str) -> Iterator[tuple[float, float]]:
    """Milliseconds from the Wall until the Desk stands, and what its picture takes alone, by the same browser."""
    context = signed_in(browser, address, "oriel")
    for visit in range(VISITS + 1):
        if coming == NEW_PICTURE:
            upload(address, page)
        elif coming == FIRST_VISIT:
            context.close()
            context = signed_in(browser, address, "oriel")
        desk = context.pages[0]
        desk.goto(f"{address}/boards")
        desk.get_by_role("link", name="Bench").click()
        desk.wait_for_selector('#spreads[aria-busy="false"]')
        desk.wait_for_timeout(FETCHED_AHEAD_MS)
        wire = context.new_cdp_session(desk)
        wire.send("Network.enable")
        wire.send("Network.setCacheDisabled", {"cacheDisabled": coming == NOTHING_KEPT})
        wire.send("Network.emulateNetworkConditions", line)
        desk.goto(f"{address}/pages/{page}", wait_until="commit")
        stands = desk.evaluate(DESK_STANDS)
        # The browser's own slowing down leaves the document out: its way there and back is added.
        answered = desk.evaluate("performance.getEntriesByType('navigation')[0].responseStart")
        stands += line["latency"] if answered < line["latency"] else 0
        source = desk.locator("#picture").get_attribute("src")
        # Nothing else is on the line by then.
        desk.goto(f"{address}/how-measured", wait_until="networkidle")
        alone = desk.evaluate(PICTURE_ALONE, f"{source}?alone={visit}")
        wire.send("Network.emulateNetworkConditions", AT_FULL_SPEED)
        wire.detach()
        if visit:  # by the first of them the scripts are kept
            yield stands, alone
    context.close()
