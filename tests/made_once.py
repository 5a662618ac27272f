"""Folders that a run of the suite makes once: whoever comes first makes one, and the other processes wait for it and copy it."""

import fcntl
import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from functools import partial
from pathlib import Path

from tests.kept_from_before import CODE_AND_STATIC, kept_or_made

ROOT = Path(__file__).resolve().parent.parent


def manage(var: Path, *arguments: str) -> None:
    run(var, "manage.py", *arguments)


def run(var: Path, *arguments: str) -> None:
    environment = {**os.environ, "UNDERBLUE_VAR": str(var), "DJANGO_SETTINGS_MODULE": "board.settings"}
    subprocess.run([sys.executable, *arguments], cwd=ROOT, env=environment, check=True, stdout=subprocess.DEVNULL)


def made_once(name: str, make: Callable[[Path], None]) -> Path:
    shared = Path(os.environ["UNDERBLUE_TESTS_SHARED"])
    made, folder = shared / f"{name}-is-made", shared / name
    with (shared / f"{name}.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not made.exists():
            make(folder)
            made.touch()
    return folder


def empty_folder() -> Path:
    """Of an Underblue that was set up and not used yet: its tables are there, and its static files."""

    def make(folder: Path) -> None:
        kept_or_made("tables", folder, partial(manage, folder, "migrate"))
        static = partial(manage, folder, "collectstatic", "--no-input")
        kept_or_made("static", folder / "static", static, CODE_AND_STATIC)

    return made_once("empty", make)


def demo_folder() -> Path:
    """With the demo board and its class, whose days are told from today."""

    def make(folder: Path) -> None:
        shutil.copytree(empty_folder(), folder)
        kept_or_made("demo", folder, partial(run, folder, "-m", "tests.browser.make_demo_board"))
        manage(folder, "load_demo")

    return made_once("demo", make)
