"""What is installed is pinned, hashed, and the same for those who run Underblue and those who change it."""

import re
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
PIN = re.compile(r"^([A-Za-z0-9._-]+)(?:\[[^\]]*\])?==(\S+)", re.MULTILINE)


def canonical(name: str) -> str:
    return re.sub(r"[-_.]+", "-", name).lower()


def pins(file: str) -> dict[str, str]:
    return {canonical(name): version for name, version in PIN.findall((ROOT / file).read_text())}


def declared(*, with_tools: bool) -> set[str]:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]
    wanted = project["dependencies"] + (project["optional-dependencies"]["dev"] if with_tools else [])
    return {canonical(re.match(r"[A-Za-z0-9._-]+", one).group()) for one in wanted}


@pytest.mark.parametrize("file", ["requirements.txt", "requirements-dev.txt"])
def test_each_package_is_pinned_with_its_hashes(file: str) -> None:
    entries = re.split(r"\n(?=\S)", (ROOT / file).read_text().strip())
    assert len(entries) > 40
    assert [entry for entry in entries if not PIN.match(entry) or "--hash=sha256:" not in entry] == []


@pytest.mark.parametrize("file", ["requirements.txt", "requirements-dev.txt"])
def test_no_address_of_a_package_index_is_named(file: str) -> None:
    assert not re.search(r"https?:|--(extra-)?index|--find-links", (ROOT / file).read_text())


@pytest.mark.parametrize(("file", "with_tools"), [("requirements.txt", False), ("requirements-dev.txt", True)])
def test_what_the_project_asks_for_is_pinned(file: str, with_tools: bool) -> None:
    assert declared(with_tools=with_tools) - pins(file).keys() == set()


def test_the_tools_are_added_to_the_same_versions_that_people_run() -> None:
    tools = pins("requirements-dev.txt")
    assert {name: version for name, version in pins("requirements.txt").items() if tools.get(name) != version} == {}
