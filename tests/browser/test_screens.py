"""Every screen: axe-core finds no violation of WCAG 2.2 AA on it, and pictures of it are made for people to look at (`.screens/`).

And what can be measured of how a screen comes up.
"""

import gzip
import re
from base64 import b64decode
from pathlib import Path
from urllib.parse import urljoin

import pytest
from playwright.sync_api import Error, Page

from tests.browser.accessibility import SCHEMES, violations

SIZES = {"wide": (1440, 900), "phone": (390, 844)}
MOST_SCRIPT_BYTES = 120_000


def shoot(page: Page, screens: Path, name: str) -> list[Path]:
    paths = []
    for scheme in SCHEMES:
        page.emulate_media(color_scheme=scheme)
        paths.append(screens / f"{name}-{scheme}.png")
        capture(page, paths[-1])
    return paths


def capture(page: Page, path: Path) -> None:
    """Now and then the browser refuses a capture between two frames, and takes the same picture once it has drawn the next one."""
    try:
        path.write_bytes(picture_of(page))
    except Error as error:
        if "Unable to capture screenshot" not in error.message:
            raise
        page.evaluate("() => new Promise((drawn) => requestAnimationFrame(() => requestAnimationFrame(drawn)))")
        path.write_bytes(picture_of(page))


def picture_of(page: Page) -> bytes:
    """Straight from the browser: it packs a PNG with a third of the work where it may be larger."""
    page.evaluate("document.fonts.ready.then(() => true)")
    session = page.context.new_cdp_session(page)
    try:
        return b64decode(session.send("Page.captureScreenshot", {"format": "png", "optimizeForSpeed": True})["data"])
    finally:
        session.detach()


def look(page: Page, screens: Path, name: str) -> None:
    """Accessible in both schemes, and drawn."""
    for scheme, rules in SCHEMES.items():
        page.emulate_media(color_scheme=scheme)
        assert violations(page, rules) == [], f"{name}, {scheme}"
        capture(page, screens / f"{name}-{scheme}.png")


@pytest.mark.parametrize("size", SIZES)
def test_every_screen_is_accessible_and_drawn(arrive, bent_pages, screens, size):
    width, height = SIZES[size]
    visitor = arrive(width=width, height=height)
    visitor.go("/sign-in")
    look(visitor.page, screens, f"sign-in-{size}")
    visitor.sign_in("oriel")
    look(visitor.page, screens, f"boards-{size}")
    visitor.wall()
    visitor.page.wait_for_load_state("networkidle")
    look(visitor.page, screens, f"wall-{size}")
    for name, path in (("account", "/account"), ("problem", "/problems/stale-version"), ("how-measured-list", "/how-measured"),
                       ("how-measured", "/how-measured/height-off?board=1"), ("to-do", "/boards/1/to-do"),
                       ("script", "/boards/1/script"), ("pace", "/boards/1/pace"), ("references", "/boards/1/references")):
        visitor.go(path)
        visitor.page.wait_for_load_state("networkidle")
        look(visitor.page, screens, f"{name}-{size}")
    visitor.desk(3)
    look(visitor.page, screens, f"desk-notes-folded-{size}")
    visitor.desk(1)
    look(visitor.page, screens, f"desk-{size}")
    visitor.page.locator(".note.is-measured .note-head").first.click()
    shoot(visitor.page, screens, f"desk-notes-{size}")
    visitor.desk_of(bent_pages[0])
    visitor.show_closed()
    visitor.page.locator(".note.is-measured .note-head").first.click()
    visitor.page.wait_for_selector(".note-open")
    assert all(path.stat().st_size > 20_000 for path in shoot(visitor.page, screens, f"desk-lines-{size}"))


@pytest.mark.parametrize("what", ["boards", "wall", "desk"])
def test_a_screen_needs_little_script(arrive, what):
    visitor = arrive("oriel", apart=True)
    {"boards": lambda: visitor.go("/boards"), "wall": visitor.wall, "desk": lambda: visitor.desk(1)}[what]()
    visitor.context.new_cdp_session(visitor.page).send("Network.setCacheDisabled", {"cacheDisabled": True})
    scripts: dict[str, int] = {}
    visitor.page.on("response", lambda answer: scripts.update(script_size(answer)))
    visitor.page.reload()
    visitor.page.wait_for_selector({"boards": "#new-board", "wall": '#spreads[aria-busy="false"]', "desk": ".notes > li"}[what])
    assert 0 < sum(scripts.values()) < MOST_SCRIPT_BYTES


def script_size(answer) -> dict[str, int]:
    if answer.request.resource_type != "script":
        return {}
    body = answer.body()
    return {answer.url: len(gzip.decompress(body) if body[:2] == b"\x1f\x8b" else body)}


def test_nothing_moves_while_the_desk_comes_up(arrive):
    visitor = arrive("oriel", apart=True)
    visitor.page.add_init_script(
        """window.shifts = [];
           new PerformanceObserver((list) => list.getEntries().forEach((entry) => window.shifts.push(entry.value)))
             .observe({ type: 'layout-shift', buffered: true });"""
    )
    visitor.desk(1)
    visitor.page.wait_for_timeout(800)
    assert sum(visitor.page.evaluate("window.shifts")) < 0.1


def test_no_screen_carries_inline_script_or_style(arrive):
    visitor = arrive("oriel")
    visitor.go("/boards")
    links = ["/boards", "/boards/1", visitor.page.locator(".board-row a").first.get_attribute("href")]
    for link in links:
        html = visitor.context.request.get(urljoin(visitor.server, link)).text()
        assert not re.search(r"<script(?![^>]*(src=|application/json))", html)
        assert not re.search(r"<style|\sstyle=|\son\w+=", html)
