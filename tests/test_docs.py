"""What can be set, run or called is told in README or DEVELOPERS."""

import re
from pathlib import Path

import pytest

from board.check_registry import CHECKS

ROOT = Path(__file__).resolve().parent.parent
README, DEVELOPERS = (ROOT / "README.md").read_text(), (ROOT / "DEVELOPERS.md").read_text()
SETTINGS = sorted(set(re.findall(r'env[.a-z_]*\(\s*"([A-Z0-9_]+)"', (ROOT / "board" / "settings.py").read_text())))
COMMANDS = sorted(path.stem for path in (ROOT / "board" / "management" / "commands").glob("[a-z]*.py"))
PARTS = sorted(
    path.name for path in (ROOT / "board").iterdir() if path.suffix == ".py" or path.is_dir() and not path.name.startswith("__")
)


@pytest.mark.parametrize("name", SETTINGS)
def test_every_setting_is_told_in_the_readme(name):
    assert f"`{name}`" in README


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_is_told(name):
    assert name in README or name in DEVELOPERS


@pytest.mark.parametrize("name", [name for name in PARTS if name != "__init__.py"])
def test_every_part_is_on_the_map(name):
    assert name in DEVELOPERS


@pytest.mark.parametrize("check", CHECKS)
def test_the_readme_says_what_each_check_measures(check):
    assert f"`{check}`" in README


def test_every_picture_of_the_readme_is_there():
    for path in re.findall(r"!\[[^]]*\]\(([^)]+)\)", README):
        assert (ROOT / path).exists(), path
