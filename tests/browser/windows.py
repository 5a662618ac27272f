"""Windows of one browser: one that a test has left is given to the next, and nothing is in it but files that the browser keeps.

A new one starts a process and fetches and reads every script and typeface again: half of what it costs to open a Desk.
"""

import shutil
from contextlib import ExitStack

from playwright.sync_api import Browser, Error, Page, sync_playwright

# The shell has no windows of its own: signing in six times cost 0.8 s of CPU in it and 2.6 s in the browser (own measurement).
BROWSERS = ("chromium-headless-shell", "chromium", "chromium-browser", "google-chrome", "google-chrome-stable")
# A browser that talks to nobody but the server under test.
QUIET = [
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-sync",
    "--disable-component-update",
]

# A hand holds a button down for about so long; a script lets go within one frame.
HAND_MS = 150

# Of the server's own, so that the process stays, and with no script in it.
BLANK = "/static/favicon.svg"


class Windows:
    def __init__(self, browser: Browser, server: str) -> None:
        self.browser, self.server = browser, server
        self.left: list[Page] = []

    def open(self, width: int, height: int, *, apart: bool, **options) -> Page:
        """`apart`: for who sets something in it that would stay; options make a window of its own too."""
        if apart or options or not self.left:
            return self.browser.new_context(viewport={"width": width, "height": height}, **options).new_page()
        page = self.left.pop()
        page.set_viewport_size({"width": width, "height": height})
        return page

    def leave(self, page: Page, *, for_others: bool) -> None:
        if for_others:
            try:
                self._clear(page)
            except Error:
                pass
            else:
                self.left.append(page)
                return
        page.context.close()

    def _clear(self, page: Page) -> None:
        for other in page.context.pages:
            if other != page:
                other.close()
        page.mouse.move(0, 0)
        page.goto(self.server + BLANK)
        page.evaluate("() => { localStorage.clear(); sessionStorage.clear(); }")
        page.context.clear_cookies()
        page.emulate_media(color_scheme="null")


class RunningBrowser:
    """One for all files in a row. While it is open an event loop runs, in which no other test could use the database."""

    def __init__(self) -> None:
        self.browser: Browser | None = None
        self.windows: Windows | None = None
        self.left = ExitStack()

    def get(self) -> Browser:
        if self.browser is None:
            path = next((found for name in BROWSERS if (found := shutil.which(name))), None)
            assert path, "These tests need a browser. On Debian: apt-get install chromium-headless-shell"
            playwright = self.left.enter_context(sync_playwright())
            self.browser = self.left.enter_context(playwright.chromium.launch(executable_path=path, args=QUIET))
        return self.browser

    def windows_on(self, server: str) -> Windows:
        self.windows = self.windows or Windows(self.get(), server)
        return self.windows

    def close(self) -> None:
        self.browser = self.windows = None
        self.left.close()
