"""What is installed is pinned, hashed, and the same for those who run Underblue and those who change it."""

import re
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
PIN = re.compile(r"^([A-Za-z0-9._-]+)(?:\[[^\]]*\])?==(\S+)", re.MULTILINE)


FILES = {"requirements.txt": "", "requirements-grown.txt": "grown", "requirements-dev.txt": "dev"}  # with the extra that it adds


def canonical(name: str) -> str:
    return re.sub(r"[-_.]+", "-", name).lower()


def pins(file: str) -> dict[str, str]:
    return {canonical(name): version for name, version in PIN.findall((ROOT / file).read_text())}


def declared(*, extra: str) -> set[str]:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]
    wanted = project["dependencies"] + (project["optional-dependencies"][extra] if extra else [])
    return {canonical(re.match(r"[A-Za-z0-9._-]+", one).group()) for one in wanted}


@pytest.mark.parametrize("file", FILES)
def test_each_package_is_pinned_with_its_hashes(file: str) -> None:
    entries = re.split(r"\n(?=\S)", (ROOT / file).read_text().strip())
    assert len(entries) > 40
    assert [entry for entry in entries if not PIN.match(entry) or "--hash=sha256:" not in entry] == []


@pytest.mark.parametrize("file", FILES)
def test_no_address_of_a_package_index_is_named(file: str) -> None:
    assert not re.search(r"https?:|--(extra-)?index|--find-links", (ROOT / file).read_text())


@pytest.mark.parametrize(("file", "extra"), FILES.items())
def test_what_the_project_asks_for_is_pinned(file: str, extra: str) -> None:
    assert declared(extra=extra) - pins(file).keys() == set()


@pytest.mark.parametrize("file", ["requirements-grown.txt", "requirements-dev.txt"])
def test_what_is_added_is_added_to_the_same_versions_that_people_run(file: str) -> None:
    more = pins(file)
    assert {name: version for name, version in pins("requirements.txt").items() if more.get(name) != version} == {}
