"""One cast for all tests, clients that are signed in, and a place of their own for the files they make."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest
from django.contrib.auth import get_user_model
from django.contrib.auth.models import AbstractBaseUser
from django.core.cache import cache
from rest_framework.test import APIClient

from board.access import Seat, access_board
from board.actions.boards import create_board
from board.actions.members import add_member
from board.actions.pages import add_page
from board.models import Board, Page
from tests.as_postgresql import refuse_as_postgresql_does
from tests.kept_rows import KeptRows

refuse_as_postgresql_does()

ROLES_OF = {
    "artist": ["artist"],
    "editor": ["editor"],
    "reader": ["reader"],
    "student": ["student"],
    "instructor": ["instructor"],
}


@dataclass(frozen=True)
class Cast:
    """The owner is artist and editor at once; the others have the one role that they are called by; the outsider has no seat."""

    board: Board
    page: Page  # page 1, drawn by the artist
    own_page: Page  # page 2, drawn by the student
    people: dict[str, AbstractBaseUser]

    def __getattr__(self, name: str) -> AbstractBaseUser:
        people = vars(self).get("people", {})  # a copy in the making has none yet
        if name not in people:
            raise AttributeError(name)
        return people[name]

    def seat(self, name: str) -> Seat:
        return access_board(self.people[name], self.board.pk)


def make_person(name: str) -> AbstractBaseUser:
    user = get_user_model()(username=name, first_name=name.capitalize())
    user.set_unusable_password()
    user.save()
    return user


def make_cast() -> Cast:
    people = {name: make_person(name) for name in ("owner", *ROLES_OF, "outsider")}
    board = create_board(user=people["owner"], title="The tide mill")
    seat = access_board(people["owner"], board.pk)
    for name, roles in ROLES_OF.items():
        add_member(seat=seat, username=name, roles=roles)
    page = add_page(seat=seat, number=1, drawn_by="artist")
    own_page = add_page(seat=seat, number=2, drawn_by="student")
    return Cast(board, page, own_page, people)


CAST = KeptRows(make_cast)


@pytest.fixture
def cast(db: None, files_of_their_own: None) -> Cast:
    return CAST.stand()


@pytest.fixture
def client_of(cast: Cast) -> Callable[[str], APIClient]:
    """`client_of("editor")` is a browser in which the editor is signed in; "anonymous" is one where nobody is."""

    def sign_in(name: str) -> APIClient:
        client = APIClient()
        if name != "anonymous":
            client.force_login(cast.people[name])
        return client

    return sign_in


@pytest.fixture
def files_of_their_own(settings, tmp_path: Path) -> None:
    """No test reads or leaves files in the folder that the program itself writes to."""
    incoming = tmp_path / "incoming"
    incoming.mkdir()
    options = {"location": str(tmp_path / "files")}
    settings.FILE_UPLOAD_TEMP_DIR = str(incoming)
    settings.STORAGES = {
        **settings.STORAGES,
        "default": {"BACKEND": "board.file_storage.WholeFileStorage", "OPTIONS": options},
        "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"},
    }


@pytest.fixture
def quick_and_quiet(settings, monkeypatch: pytest.MonkeyPatch) -> None:
    """No broker is asked, no password is hashed slowly, no heartbeat waits, and no throttle remembers the test before."""
    monkeypatch.setattr("board.actions.jobs.send_job", lambda **_: True)
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
    # A job run inside a test's transaction is seen by no other connection: its heartbeat would wait 20 s for a lock, and give up.
    settings.HEARTBEAT_SECONDS = 60
    cache.clear()


@pytest.fixture(autouse=True)
def apart_from_each_other(request: pytest.FixtureRequest) -> None:
    """Where rows are written: many tests look at pictures or reckon, and need nothing of it."""
    if not {"db", "transactional_db"}.isdisjoint(request.fixturenames) or request.node.get_closest_marker("django_db"):
        request.getfixturevalue("files_of_their_own")
        request.getfixturevalue("quick_and_quiet")
