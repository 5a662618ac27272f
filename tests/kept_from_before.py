"""What an earlier run of the suite made today is taken again, while all that it is made by is as it was.

The demo board takes 75 s of CPU to draw and measure, and many changes are to none of that code (own measurement).
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
# Screens, templates and the API look at what is kept. Static files are collected anew for each run.
MADE_BY = (
    "board/**/*.py", "fixtures/**/*.py", "requirements.txt", "tests/made_once.py", "tests/kept_from_before.py",
    "tests/browser/make_demo_board.py", "tests/browser/bent_room.py", "tests/page_checks/test_perspective.py",
)
NOT_BY = ("board/screens/",)
OF_EACH_RUN = ("static", "secret_key")


def kept_or_made(name: str, folder: Path, make: Callable[[], None]) -> None:
    """Fills `folder` by `make`, or with what that made before."""
    kept = KEPT / f"{name}-{made_of(ROOT)}"
    if not kept.exists():
        make()
        _keep(name, folder, kept)
    else:
        shutil.copytree(kept, folder, dirs_exist_ok=True)


def made_of(root: Path) -> str:
    """Tells one state of the code from another, and one day from the next."""
    told = hashlib.sha256(f"{sys.version} {date.today()}".encode())
    for path in _sources(root):
        told.update(f"{path.relative_to(root)} {hashlib.sha256(path.read_bytes()).hexdigest()}\n".encode())
    return told.hexdigest()[:16]


def _sources(root: Path) -> Iterator[Path]:
    found = {path for pattern in MADE_BY for path in root.glob(pattern)}
    return (path for path in sorted(found) if not str(path.relative_to(root)).startswith(NOT_BY))


def _keep(name: str, folder: Path, kept: Path) -> None:
    """Whole or not at all, and in place of what was kept before."""
    KEPT.mkdir(parents=True, exist_ok=True)
    for before in KEPT.glob(f"{name}-*"):
        shutil.rmtree(before, ignore_errors=True)
    half = KEPT / f"half-{name}-{os.getpid()}"
    shutil.copytree(folder, half, ignore=shutil.ignore_patterns(*OF_EACH_RUN))
    half.rename(kept)
