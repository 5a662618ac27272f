"""Folders that a run of the suite makes once: whoever comes first makes one, and the other processes wait for it and copy it."""

import fcntl
import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

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
        manage(folder, "migrate")
        manage(folder, "collectstatic", "--no-input")

    return made_once("empty", make)


def demo_folder() -> Path:
    """With the demo board, drawn half as large as people get it and measured, and two pages of a room on it."""

    def make(folder: Path) -> None:
        shutil.copytree(empty_folder(), folder)
        manage(folder, "load_demo", "--scale", "0.5")
        run(folder, "-m", "tests.browser.add_bent_pages")

    return made_once("demo", make)
