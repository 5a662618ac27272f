from collections.abc import Callable, Generator, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, ConsoleMessage, Cookie, Error, Page, expect

from board.management.demo_people import DEMO_PEOPLE
from tests.browser.bent_room import BENT, MENDED
from tests.browser.demo_server import serving
from tests.browser.script import Script
from tests.browser.windows import RunningBrowser

HERE = Path(__file__).resolve().parent
SCREENS = HERE.parent.parent / ".screens"
# No test is one of speed: where the machine has much else to do, a thing is waited for as long as a page is.
WAIT_MS = 30_000
expect.set_options(timeout=WAIT_MS)
Seats = dict[str, list[Cookie]]
PAGE_IDS: dict[int, int] = {}  # of the demo board's pages, by number
PASSWORDS = {person.name: person.password for person in DEMO_PEOPLE}


@pytest.fixture(scope="session")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    with serving(tmp_path_factory.mktemp("served") / "var") as address:
        yield address


@pytest.fixture(scope="session")
def bent_pages(server: str) -> tuple[int, int]:
    """Two pages of a room: with an edge turned by 6°, and where that was mended in the next revision."""
    rows = Script(server).send("GET", "/boards/1/pages?limit=500")["results"]
    bent, mended = (next(row["id"] for row in rows if row["numbers"] == [number]) for number in (BENT, MENDED))
    return bent, mended


RUNNING = RunningBrowser()


@pytest.hookimpl(wrapper=True)
def pytest_runtest_protocol(item: pytest.Item, nextitem: pytest.Item | None) -> Generator[None, object, object]:
    result = yield
    if nextitem is None or HERE not in nextitem.path.parents:
        RUNNING.close()
    return result


@pytest.fixture
def browser() -> Browser:
    return RUNNING.get()


@pytest.fixture(scope="session")
def seats(server: str) -> Seats:
    """The cookies of all who signed in. A password is checked slowly on purpose, and once for each person is enough."""
    return {}


class Visitor:
    """One person at one browser, who hears of anything that goes wrong in it."""

    def __init__(self, page: Page, server: str) -> None:
        self.page, self.context, self.server, self.faults = page, page.context, server, []
        page.set_default_timeout(WAIT_MS)
        page.on("pageerror", self._note_error)
        page.on("console", self._note_words)

    def _note_error(self, error: Error) -> None:
        self.faults.append(str(error))

    def _note_words(self, message: ConsoleMessage) -> None:
        # 412 is no fault: somebody else changed it first, and the screen says so.
        if message.type == "error" and "status of 412" not in message.text:
            self.faults.append(message.text)

    def leave(self) -> Page:
        self.page.remove_listener("pageerror", self._note_error)
        self.page.remove_listener("console", self._note_words)
        return self.page

    def sign_in(self, username: str) -> "Visitor":
        self.go("/sign-in")
        self.page.get_by_label("Name").fill(username)
        self.page.get_by_label("Password").fill(PASSWORDS[username])
        self.page.get_by_role("button", name="Sign in").click()
        self.page.wait_for_url("**/boards")
        return self

    def come_in(self, username: str, seats: Seats) -> "Visitor":
        """Signed in, by the cookies of whoever came under this name before; nothing is open yet."""
        if username not in seats:
            self.sign_in(username)
            seats[username] = self.context.cookies()
        else:
            self.context.add_cookies(seats[username])
        return self

    def go(self, path: str) -> None:
        self.page.goto(self.server + path)

    def wall(self) -> None:
        self.go("/boards/1")
        self.page.wait_for_selector('#spreads[aria-busy="false"]')

    def desk_from_wall(self, number: int) -> None:
        self.wall()
        self.page.locator(".leaf-link", has_text=f"Page {number}").first.click()
        self.page.wait_for_url("**/pages/*")
        self.notes_stand()

    def desk(self, number: int) -> None:
        """Opens a page of the demo board and waits until its notes stand."""
        if number not in PAGE_IDS:
            PAGE_IDS.update({number: page["id"] for page in self.read("/boards/1/pages") for number in page["numbers"]})
        self.desk_of(PAGE_IDS[number])

    def read(self, path: str) -> list[dict]:
        """The rows that the API lists for whoever sits here."""
        return self.context.request.get(f"{self.server}/api/v1{path}").json()["results"]

    def desk_of(self, page_id: int) -> None:
        self.go(f"/pages/{page_id}")
        self.notes_stand()

    def more_tools(self) -> None:
        """What is seldom wanted lies behind a button."""
        self.page.get_by_role("button", name="More tools").click()

    def show_closed(self) -> None:
        """By its key: on a narrow screen the button lies behind another."""
        if self.page.locator('[data-key="show-closed"]').count():
            self.page.keyboard.press("3")

    def notes_stand(self) -> None:
        self.page.wait_for_selector(".picture.is-placed")
        self.page.wait_for_selector(".notes > li")

    def desk_with_note(self, state: str) -> None:
        """The first page of the demo board with a note in this state."""
        self.desk_of(next(note["page"] for note in self.read(f"/boards/1/notes?state={state}") if note["page"]))
        self.show_closed()


Arrive = Callable[..., Visitor]


@pytest.fixture
def arrive(browser: Browser, server: str, seats: Seats) -> Iterator[Arrive]:
    """`arrive("oriel", width=390)`: a window of one's own, signed in; at the end nothing may have gone wrong in it.

    `apart=True` for a test that sets in its window what outlives a page: a script for all pages, what is kept, who listens.
    """
    windows = RUNNING.windows_on(server)
    visitors: list[tuple[Visitor, bool]] = []

    def arrive(username: str | None = None, width: int = 1440, height: int = 900, *, apart: bool = False, **options) -> Visitor:
        visitor = Visitor(windows.open(width, height, apart=apart, **options), server)
        visitors.append((visitor, apart or bool(options)))
        return visitor.come_in(username, seats) if username else visitor

    yield arrive
    for visitor, is_apart in visitors:
        windows.leave(visitor.leave(), for_others=not is_apart)
    assert [fault for visitor, _ in visitors for fault in visitor.faults] == []


@pytest.fixture(scope="session")
def screens() -> Path:
    SCREENS.mkdir(exist_ok=True)
    return SCREENS
