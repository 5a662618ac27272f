"""File names and the pages they mean, by the table that other languages run too."""

import json
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from board.page_names import match_names, natural_key

TABLE = json.loads(Path(__file__).with_name("vectors").joinpath("page_names.json").read_text())
NUMBERS = {int(pk): numbers for pk, numbers in TABLE["pages"].items()}


@pytest.mark.parametrize("case", TABLE["cases"], ids=lambda case: case["name"])
def test_the_table_of_names(case):
    got = match_names(case["names"], NUMBERS, case.get("earlier"))
    assert [match.name for match in got] == case["names"]
    for match, wanted in zip(got, case["matches"], strict=True):
        said = (match.page, match.reason, match.stage, match.alternate)
        assert said == tuple(wanted.get(member) for member in ("page", "reason", "stage", "alternate")), match
        if "numbers" in wanted:
            assert list(match.numbers) == wanted["numbers"]


@pytest.mark.parametrize("names", TABLE["sorted"])
def test_names_sort_as_people_count(names):
    mixed = names[::-1]
    assert sorted(mixed, key=natural_key) == names


@given(st.lists(st.text(max_size=30), max_size=4))
def test_any_name_gets_a_page_or_a_reason(names):
    for match in match_names(names, NUMBERS):
        assert (match.page is None) != (match.reason is None)
