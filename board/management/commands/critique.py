"""`manage.py critique IMAGE`: all checks on one file, without server or database."""

import json
import sys
from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand

from board.check_contract import Findings, PageUnderCheck
from board.check_overlay import draw_overlay
from board.check_registry import label_of_finding
from board.check_run import CheckRun, run_checks
from board.errors import BoardError
from board.page_format import FORMATS, PageFormat
from board.stages.order import STAGES
from board.vision.picture_decoding import DecodedPicture, decode_picture


class Command(BaseCommand):
    help = "Runs all checks on one picture and writes a summary; with --json and --overlay also the numbers and a picture."
    requires_system_checks: list[str] = []

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("image", type=Path)
        parser.add_argument("--stage", choices=STAGES, default="final")
        parser.add_argument("--reading", choices=("ltr", "rtl"), default="ltr", help="left to right, or right to left")
        parser.add_argument("--format", choices=sorted(FORMATS), default="a5", help="trim size that the page is printed at")
        parser.add_argument("--spread", action="store_true", help="the picture is two facing pages")
        parser.add_argument("--json", type=Path, metavar="OUT")
        parser.add_argument("--overlay", type=Path, metavar="OUT.png")

    def handle(self, *args: Any, **options: Any) -> None:
        picture = self._decode(options["image"])
        page = PageUnderCheck(
            picture.gray, options["stage"], page_format(options), options["reading"], is_spread=options["spread"]
        )
        page, runs = run_checks(page)
        self.stdout.write(summary(options["image"], picture, page, runs))
        if options["json"]:
            options["json"].write_text(json.dumps(report(options["image"], picture, page, runs), indent=1))
        if options["overlay"]:
            draw_overlay(picture.image, page.panels, all_found(runs)).save(options["overlay"])

    def _decode(self, path: Path) -> DecodedPicture:
        try:
            with path.open("rb") as file:
                return decode_picture(file, settings.UPLOAD_LIMITS)
        except (BoardError, OSError) as error:
            reason = error.message if isinstance(error, BoardError) else error.strerror
            self.stderr.write(f"{path}: {reason}")
            sys.exit(2)


def page_format(options: dict[str, Any]) -> PageFormat:
    single = FORMATS[options["format"]]
    return single.as_spread() if options["spread"] else single


def all_found(runs: list[CheckRun]) -> list:
    return [finding for run in runs if isinstance(run.result, Findings) for finding in run.result.found]


def summary(path: Path, picture: DecodedPicture, page: PageUnderCheck, runs: list[CheckRun]) -> str:
    """Plain text for people."""
    lines = [f"{path.name}: {picture.size[0]} × {picture.size[1]} px, {page.stage} stage, {len(page.panels)} panels"]
    for run in runs:
        lines.append(f"\n{run.entry.label} ({run.seconds:.2f} s)")
        if not isinstance(run.result, Findings):
            lines.append(f"  not measured: {run.result.reason}")
            continue
        for finding in run.result.found:
            where = f"panel {finding.panel}" if finding.panel is not None else "page"
            lines.append(f"  {where}: {label_of_finding(finding.finding)}, {finding.measured:g} {finding.unit} ({finding.text})")
        lines += [f"  panel {panel}: not measured: {why.reason}" for panel, why in run.result.not_measured.items()]
        if not run.result.found:
            lines.append("  nothing to report")
    return "\n".join(lines)


def report(path: Path, picture: DecodedPicture, page: PageUnderCheck, runs: list[CheckRun]) -> dict[str, Any]:
    return {
        "image": path.name,
        "size": list(picture.size),
        "panels": [{"order": panel.order, "polygon": [list(corner) for corner in panel.polygon]} for panel in page.panels],
        "checks": [_check_report(run) for run in runs],
    }


def _check_report(run: CheckRun) -> dict[str, Any]:
    findings = run.result.found if isinstance(run.result, Findings) else ()
    names = ("finding", "panel", "measured", "expected", "tolerance", "unit", "confidence", "text", "geometry")
    return {
        "check": run.entry.id,
        "state": run.state,
        "reason": "" if isinstance(run.result, Findings) else run.result.reason,
        "seconds": round(run.seconds, 4),
        "findings": [{name: getattr(finding, name) for name in names} for finding in findings],
    }
