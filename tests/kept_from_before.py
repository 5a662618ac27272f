"""What an earlier run of the suite made today is taken again, while all that it is made by is as it was.

The demo board takes 75 s of CPU to draw and measure, tables and static files 7 s, and many changes are to none of that code (own
measurement).
"""

import fcntl
import hashlib
import shutil
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
# Where pytest keeps things between runs: its --cache-clear does away with them.
KEPT = ROOT / ".pytest_cache" / "d"
# Screens, templates and the API look at what is kept.
CODE = (
    "board/**/*.py", "fixtures/**/*.py", "requirements.txt", "tests/made_once.py", "tests/kept_from_before.py",
    "tests/browser/make_demo_board.py", "tests/browser/bent_room.py", "tests/page_checks/test_perspective.py",
)
CODE_AND_STATIC = (*CODE, "static/**/*")
PICTURES = (
    "fixtures/**/*.py", "board/page_space.py", "board/page_format.py", "requirements.txt", "tests/kept_from_before.py",
    "tests/browser/make_demo_board.py",
)
NOT_BY = ("board/screens/",)
APART = ("static", "secret_key")  # the one is kept by itself, the other is each run's own


def kept_or_made(name: str, folder: Path, make: Callable[[], None], made_by: tuple[str, ...] = CODE) -> None:
    """Fills `folder` by `make`, or with what that made before."""
    place = place_of(name, made_by)
    if not take_kept(place, folder):
        make()
        keep(place, folder)


def place_of(name: str, made_by: tuple[str, ...]) -> Path:
    """Asked for before it is made: meanwhile somebody may change the code."""
    return KEPT / f"{name}-{made_of(ROOT, made_by)}"


def take_kept(place: Path, folder: Path) -> bool:
    """Whether there was anything."""
    with _alone():
        is_there = place.exists()
        if is_there:
            shutil.copytree(place, folder, dirs_exist_ok=True)
    return is_there


def keep(place: Path, folder: Path) -> None:
    """Whole or not at all, and in place of what was kept before."""
    name, _, _ = place.name.partition("-")
    with _alone():
        half = KEPT / "half"
        for before in (half, *KEPT.glob(f"{name}-*")):
            shutil.rmtree(before, ignore_errors=True)
        shutil.copytree(folder, half, ignore=shutil.ignore_patterns(*APART))
        half.rename(place)


@contextmanager
def _alone() -> Iterator[None]:
    """Two runs may go on at a time."""
    KEPT.mkdir(parents=True, exist_ok=True)
    with (KEPT / "lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        yield


def made_of(root: Path, made_by: tuple[str, ...]) -> str:
    """Tells one state of the code from another, and one day from the next."""
    told = hashlib.sha256(f"{sys.version} {date.today()}".encode())
    for path in _sources(root, made_by):
        told.update(f"{path.relative_to(root)} {hashlib.sha256(path.read_bytes()).hexdigest()}\n".encode())
    return told.hexdigest()[:16]


def _sources(root: Path, made_by: tuple[str, ...]) -> Iterator[Path]:
    found = {path for pattern in made_by for path in root.glob(pattern) if path.is_file()}
    return (path for path in sorted(found) if not str(path.relative_to(root)).startswith(NOT_BY))
