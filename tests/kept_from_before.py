"""What an earlier run of the suite made today is taken again, while all that it is made by is as it was.

The demo board takes 75 s of CPU to draw and measure, tables and static files 7 s, and many changes are to none of that code (own
measurement).
"""

import hashlib
import os
import shutil
import sys
from collections.abc import Callable, Iterator
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
    if not take_kept(name, folder, made_by):
        make()
        keep(name, folder, made_by)


def take_kept(name: str, folder: Path, made_by: tuple[str, ...]) -> bool:
    """Whether there was anything."""
    kept = _place(name, made_by)
    if kept.exists():
        shutil.copytree(kept, folder, dirs_exist_ok=True)
        return True
    return False


def keep(name: str, folder: Path, made_by: tuple[str, ...]) -> None:
    """Whole or not at all, and in place of what was kept before."""
    KEPT.mkdir(parents=True, exist_ok=True)
    for before in KEPT.glob(f"{name}-*"):
        shutil.rmtree(before, ignore_errors=True)
    half = KEPT / f"half-{name}-{os.getpid()}"
    shutil.copytree(folder, half, ignore=shutil.ignore_patterns(*APART))
    half.rename(_place(name, made_by))


def _place(name: str, made_by: tuple[str, ...]) -> Path:
    return KEPT / f"{name}-{made_of(ROOT, made_by)}"


def made_of(root: Path, made_by: tuple[str, ...]) -> str:
    """Tells one state of the code from another, and one day from the next."""
    told = hashlib.sha256(f"{sys.version} {date.today()}".encode())
    for path in _sources(root, made_by):
        told.update(f"{path.relative_to(root)} {hashlib.sha256(path.read_bytes()).hexdigest()}\n".encode())
    return told.hexdigest()[:16]


def _sources(root: Path, made_by: tuple[str, ...]) -> Iterator[Path]:
    found = {path for pattern in made_by for path in root.glob(pattern) if path.is_file()}
    return (path for path in sorted(found) if not str(path.relative_to(root)).startswith(NOT_BY))
