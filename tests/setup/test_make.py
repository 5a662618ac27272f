"""The commands that are promised to people who have only read the first lines of the README."""

import os
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]


def make(*words: str) -> subprocess.CompletedProcess[str]:
    environment = {name: value for name, value in os.environ.items() if not name.startswith("MAKE")}  # `make test` runs this
    return subprocess.run(["make", *words], cwd=ROOT, env=environment, capture_output=True, text=True, timeout=60)


def get_browser(only_commands_in: Path) -> subprocess.CompletedProcess[str]:
    script = str(ROOT / ".ci" / "get-browser")
    return subprocess.run(["/bin/bash", script], env={"PATH": str(only_commands_in)}, capture_output=True, text=True, timeout=60)


@pytest.mark.parametrize("command", ["setup", "demo", "test", "lint", "bench", "bench-long", "help"])
def test_make_alone_lists_the_commands(command: str) -> None:
    assert any(line.split()[:2] == ["make", command] for line in make().stdout.splitlines())


def test_a_python_that_is_too_old_is_named_before_anything_is_made(tmp_path: Path) -> None:
    old = tmp_path / "python3"
    old.write_text('#!/bin/sh\n[ "$1" = -V ] && echo "Python 3.9.2"\nexit 1\n')
    old.chmod(0o755)
    answer = make("setup", f"VENV={tmp_path / 'venv'}", f"PYTHON={old}")
    assert answer.returncode != 0
    assert "needs Python 3.11 or later" in answer.stderr and "Python 3.9.2" in answer.stderr
    assert not (tmp_path / "venv").exists()


def test_without_a_browser_and_without_the_right_to_install_one_it_says_what_to_do(tmp_path: Path) -> None:
    """A machine of its own: the few commands that the script needs, somebody who is not root, and a sudo that asks."""
    (tmp_path / "bash").symlink_to("/bin/bash")
    for name, script in {"id": "echo 1000", "sudo": "exit 1"}.items():
        (tmp_path / name).write_text(f"#!/bin/bash\n{script}\n")
        (tmp_path / name).chmod(0o755)
    answer = get_browser(tmp_path)
    assert answer.returncode == 1
    assert "apt-get install chromium" in answer.stderr


def test_as_root_it_installs_a_browser_from_the_systems_packages(tmp_path: Path) -> None:
    for name, script in {"id": "echo 0", "apt-get": f'echo "$@" >> {tmp_path / "asked"}'}.items():
        (tmp_path / name).write_text(f"#!/bin/bash\n{script}\n")
        (tmp_path / name).chmod(0o755)
    (tmp_path / "env").symlink_to("/usr/bin/env")
    answer = get_browser(tmp_path)
    assert answer.returncode == 0, answer.stderr
    assert (tmp_path / "asked").read_text().splitlines() == ["update -qq", "install -y -qq chromium"]
