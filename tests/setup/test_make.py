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


COMMANDS = ["setup", "grown", "demo", "serve", "password", "backup", "restore", "test", "lint", "bench", "bench-long", "help"]


@pytest.mark.parametrize("command", COMMANDS)
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


def a_machine(folder: Path, **commands: str) -> Path:
    """A machine of its own: bash, env and the few commands that are given, each with its script."""
    for name in ("bash", "env"):
        (folder / name).symlink_to(f"/usr/bin/{name}")
    for name, script in commands.items():
        file = folder / name.replace("_", "-")
        file.write_text(f"#!/bin/bash\n{script}\n")
        file.chmod(0o755)
    return folder


def asked_of(machine: Path) -> list[str]:
    return (machine / "asked").read_text().splitlines()


def test_without_a_browser_and_without_the_right_to_install_one_it_says_what_to_do(tmp_path: Path) -> None:
    answer = get_browser(a_machine(tmp_path, id="echo 1000", sudo="exit 1", apt_get="exit 0"))
    assert answer.returncode == 1
    assert "apt-get install chromium" in answer.stderr


def test_as_root_it_installs_a_browser_from_the_systems_packages(tmp_path: Path) -> None:
    machine = a_machine(tmp_path, id="echo 0", apt_get=f'echo "$@" >> {tmp_path / "asked"}')
    answer = get_browser(machine)
    assert answer.returncode == 0, answer.stderr
    assert asked_of(machine) == ["install -y -qq chromium-headless-shell"]


def test_a_system_that_knows_only_the_browser_with_windows_gets_that(tmp_path: Path) -> None:
    machine = a_machine(tmp_path, id="echo 0", apt_get=f'echo "$@" >> {tmp_path / "asked"}; [[ "$*" != *shell ]]')
    answer = get_browser(machine)
    assert answer.returncode == 0, answer.stderr
    shell = "install -y -qq chromium-headless-shell"
    assert asked_of(machine) == [shell, "update -qq", shell, "install -y -qq chromium"]


def test_a_browser_that_is_there_will_do_where_nothing_may_be_installed(tmp_path: Path) -> None:
    answer = get_browser(a_machine(tmp_path, id="echo 1000", sudo="exit 1", apt_get="exit 0", chromium="exit 0"))
    assert answer.returncode == 0
    assert "drive chromium" in answer.stdout
