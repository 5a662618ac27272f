"""Runs the checks of a stage on one decoded page, in their order, with no server and no database."""

import time
from dataclasses import dataclass, replace

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
    runs = []
    for entry in checks_for(page.stage):
        started = time.perf_counter()
        result = entry.load()(replace(page, tolerances=entry.tolerances))
        run = CheckRun(entry, result, time.perf_counter() - started)
        if entry.id == "panels" and isinstance(result, Findings):
            page = replace(page, panels=_panels(result))
        runs.append(run)
    return page, runs


def _panels(result: Findings) -> tuple[PanelUnderCheck, ...]:
    return tuple(
        PanelUnderCheck(order, order, tuple((x, y) for x, y in panel["polygon"]), panel["framed"])
        for order, panel in enumerate(result.numbers["panels"], start=1)
    )
