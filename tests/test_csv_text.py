"""A table opens in a spreadsheet and runs nothing. The starts of formulas are those of OWASP, "CSV Injection"."""

import csv
from io import StringIO

import pytest
from hypothesis import given
from hypothesis import strategies as st

from board.csv_text import FORMULA_STARTS, safe_cell, table_as_csv


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", " =1", '=HYPERLINK("x")', "＝1"])
def test_what_would_be_a_formula_is_text(text):
    assert safe_cell(text) == f"'{text}"


def test_numbers_stay_numbers_and_nothing_stays_empty():
    assert [safe_cell(value) for value in (-3, 2.5, None, "a=b")] == ["-3", "2.5", "", "a=b"]


@given(st.lists(st.text(max_size=20), min_size=1, max_size=4))
def test_no_cell_of_any_text_begins_a_formula_and_all_are_read_back(cells):
    (read,) = csv.reader(StringIO(table_as_csv(cells, []), newline=""))
    assert [cell.removeprefix("'") for cell in read] == [cell.removeprefix("'") for cell in cells]
    assert not any(cell.startswith(FORMULA_STARTS) for cell in read)
