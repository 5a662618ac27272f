"""Checks run in their order, and each is given what those it builds on have measured."""

import numpy as np

from board import check_run
from board.check_contract import Findings, PageUnderCheck
from board.check_registry import CheckEntry
from board.not_measured import NotMeasured
from board.page_format import FORMATS

SEEN = {}


def first(page):
    SEEN["first"] = page.earlier
    return Findings(numbers={"eye": 3})


def silent(page):
    return NotMeasured("Nothing to see.")


def last(page):
    SEEN["last"] = page.earlier
    return Findings()


def test_a_check_is_given_the_numbers_of_those_it_comes_after(monkeypatch):
    entries = [CheckEntry(name, name, ("final",), after, f"{__name__}:{name}", 1, {})
               for name, after in (("first", ()), ("silent", ()), ("last", ("first", "silent")))]
    monkeypatch.setattr(check_run, "checks_for", lambda stage: entries)
    monkeypatch.setattr(CheckEntry, "load", lambda entry: globals()[entry.id])
    _, runs = check_run.run_checks(PageUnderCheck(np.zeros((2, 2), np.uint8), "final", FORMATS["a4"]))
    assert [run.state for run in runs] == ["done", "not_measured", "done"]
    assert SEEN == {"first": {}, "last": {"first": {"eye": 3}}}
