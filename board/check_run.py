"""Runs the checks of a stage on one decoded page, in their order, with no server and no database."""

import time
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from board.check_contract import CheckResult, Findings, PageUnderCheck, PanelUnderCheck
from board.check_registry import CheckEntry, checks_for
from board.not_measured import NotMeasured


@dataclass(frozen=True)
class CheckRun:
    entry: CheckEntry
    result: CheckResult
    seconds: float

    @property
    def state(self) -> str:
        return "not_measured" if isinstance(self.result, NotMeasured) else "done"


def run_checks(page: PageUnderCheck) -> tuple[PageUnderCheck, list[CheckRun]]:
    """The page with the panels that `panels` found (later checks work from them), and each check's run."""
    runs: list[CheckRun] = []
    for entry in checks_for(page.stage):
        started = time.perf_counter()
        result = entry.load()(replace(page, tolerances=entry.tolerances, earlier=_numbers_for(entry, runs)))
        run = CheckRun(entry, result, time.perf_counter() - started)
        if entry.id == "panels" and isinstance(result, Findings):
            page = replace(page, panels=_panels(result))
        runs.append(run)
    return page, runs


def _numbers_for(entry: CheckEntry, runs: list[CheckRun]) -> dict[str, Mapping[str, Any]]:
    """What the checks named in `after` measured; one that measured nothing gives nothing."""
    return {run.entry.id: run.result.numbers for run in runs if run.entry.id in entry.after and isinstance(run.result, Findings)}


def _panels(result: Findings) -> tuple[PanelUnderCheck, ...]:
    return tuple(
        PanelUnderCheck(order, order, tuple((x, y) for x, y in panel["polygon"]), panel["framed"])
        for order, panel in enumerate(result.numbers["panels"], start=1)
    )
