"""What `manage.py critique` tells of one picture: words for people, and the same as JSON."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from board.check_contract import Finding, Findings, PageUnderCheck
from board.check_registry import CheckEntry, label_of_finding
from board.check_run import CheckRun
from board.not_measured import NotMeasured
from board.page_space import Point

FAR = 20.0  # pages away, lines that run to a point look parallel
FINDING_FIELDS = ("finding", "panel", "measured", "expected", "tolerance", "unit", "confidence", "text", "geometry")
OTHER_TRIM = "If it is printed at another size, name that in mm: --trim 150x225 --bleed 3."


def all_found(runs: Sequence[CheckRun]) -> list[Finding]:
    return [finding for run in runs if isinstance(run.result, Findings) for finding in run.result.found]


def eye_levels(runs: Sequence[CheckRun]) -> list[list[Point]]:
    return [[(x, y) for x, y in one["eye_level"]] for run in runs for one in _views(run)]


def summary(name: str, size_px: tuple[int, int], page: PageUnderCheck, runs: Sequence[CheckRun], *, stage_was_said: bool) -> str:
    """Plain text for people."""
    stage = f"{page.stage} stage" if stage_was_said else f"taken as a {page.stage} (else say --stage pencil or thumbnail)"
    lines = [f"{name}: {size_px[0]} × {size_px[1]} px, {stage}, {len(page.panels)} panels"]
    of_board = [run for run in runs if _needs_a_board(run.entry) and isinstance(run.result, NotMeasured)]
    for run in runs:
        if run not in of_board:
            lines += [f"\n{run.entry.label} ({run.seconds:.2f} s)", *(f"  {line}" for line in _told(run))]
    if of_board:
        names = ", ".join(run.entry.label for run in of_board)
        lines.append(f"\nOnly on a board, where figures are marked and panels and stills tied: {names}")
    return "\n".join(lines)


def _needs_a_board(entry: CheckEntry) -> bool:
    """A file alone tells it nothing."""
    return entry.needs_figures or entry.waits_to_be_asked


def _told(run: CheckRun) -> Iterator[str]:
    if not isinstance(run.result, Findings):
        yield f"not measured: {reason_of(run)}"
        return
    for finding in run.result.found:
        where = f"panel {finding.panel}" if finding.panel is not None else "page"
        yield f"{where}: {label_of_finding(finding.finding)}, {finding.measured:g} {finding.unit} ({finding.text})"
    yield from (f"panel {one['panel']}: {view_in_words(one)}" for one in _views(run))
    yield from (f"panel {panel}: not measured: {why.reason}" for panel, why in run.result.not_measured.items())
    if not run.result.found:
        yield "nothing to report"
    if "taken_as" in run.result.numbers:
        yield f"taken as {run.result.numbers['taken_as']}, {run.result.numbers['dpi']:g} dpi"


def reason_of(run: CheckRun) -> str:
    """Why nothing was measured; "" where something was."""
    reason = "" if isinstance(run.result, Findings) else run.result.reason
    return f"{reason} {OTHER_TRIM}" if "the shape of the page" in reason else reason


def _views(run: CheckRun) -> list[Mapping[str, Any]]:
    """The panels whose perspective is known."""
    if run.entry.id != "perspective" or not isinstance(run.result, Findings):
        return []
    return [one for one in run.result.numbers.get("panels", ()) if one["eye_level"]]


def view_in_words(one: Mapping[str, Any]) -> str:
    """Places are told in shares of the page, from its upper left corner."""
    (_, left), (_, right) = one["eye_level"]
    told = [f"eye level at {share(left)} of the page's height on its left, {share(right)} on its right"]
    for point in one["vanishing_points"]:
        lines = "uprights" if point["role"] == "upright" else "level lines"
        x, y, w = point["point"]
        is_far = max(abs(x), abs(y)) >= FAR * abs(w)
        told.append(f"{lines} look parallel" if is_far else f"{lines} meet at {share(x / w)} across, {share(y / w)} down")
    told.append(f"focal length {one['focal_px']:.0f} px" if one.get("focal_px") else "focal length not shown")
    told += [f"{name} {round(one[f'{name}_deg'], 1) or 0:g}°" for name in ("pitch", "roll") if one.get(f"{name}_deg") is not None]
    return ", ".join(told)


def share(value: float) -> str:
    return f"{100 * value:.1f} %"


def report(name: str, size_px: tuple[int, int], page: PageUnderCheck, runs: Sequence[CheckRun]) -> dict[str, Any]:
    return {
        "image": name,
        "size": list(size_px),
        "panels": [{"order": panel.order, "polygon": [list(corner) for corner in panel.polygon]} for panel in page.panels],
        "checks": [_check_report(run) for run in runs],
    }


def _check_report(run: CheckRun) -> dict[str, Any]:
    findings = run.result if isinstance(run.result, Findings) else Findings()
    return {
        "check": run.entry.id,
        "state": run.state,
        "reason": reason_of(run),
        "seconds": round(run.seconds, 4),
        "findings": [{name: getattr(finding, name) for name in FINDING_FIELDS} for finding in findings.found],
        "numbers": dict(findings.numbers),
        "not_measured": {str(panel): why.reason for panel, why in findings.not_measured.items()},
    }
