"""`manage.py critique IMAGE …`: all checks on files, without server or database."""

import json
import os
import re
import sys
from argparse import ArgumentParser, ArgumentTypeError
from dataclasses import replace
from pathlib import Path
from typing import Any, NoReturn

from django.conf import settings
from django.core.management.base import BaseCommand
from PIL import Image

from board.check_contract import PageUnderCheck
from board.check_overlay import draw_overlay
from board.check_run import run_checks
from board.errors import BoardError
from board.management.critique_report import all_found, eye_levels, report, summary
from board.management.told_apart import file_stems, headings
from board.page_format import FORMATS, PageFormat
from board.stages.order import STAGES
from board.vision.picture_decoding import DecodedPicture, decode_picture

TRIM = re.compile(r"(\d+(?:\.\d+)?) ?[x×] ?(\d+(?:\.\d+)?)")


class Command(BaseCommand):
    help = "Runs all checks on pictures and writes a summary of each; with --json and --overlay also the numbers and a picture."
    requires_system_checks: list[str] = []

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("images", type=Path, nargs="+", metavar="IMAGE")
        parser.add_argument("--stage", choices=STAGES, help="of all of them; final where nothing is said")
        parser.add_argument("--reading", choices=("ltr", "rtl"), default="ltr", help="left to right, or right to left")
        parser.add_argument("--format", choices=sorted(FORMATS), default="a5", help="trim size that the page is printed at")
        parser.add_argument("--trim", type=trim_size, metavar="WIDTHxHEIGHT", help="any other trim size, in mm: 150x225")
        parser.add_argument("--bleed", type=float, metavar="MM", help="past the trim; 3 mm where nothing is said")
        parser.add_argument("--bound", choices=("left", "right"), help="the side that is bound, where a page may have no bleed")
        parser.add_argument("--spread", action="store_true", help="each picture is two facing pages")
        parser.add_argument("--json", type=Path, metavar="OUT", help="of several pictures a list")
        parser.add_argument("--overlay", type=Path, metavar="OUT.png", help="or a folder, which several pictures need")

    def handle(self, *args: Any, **options: Any) -> None:
        try:
            page_format = format_of(options)
        except ValueError as error:
            self._give_up(str(error))
        for fault in faults_of_targets(options):
            self._give_up(fault)
        told: list[dict[str, Any]] = []
        has_failed = False
        names = headings(options["images"])
        for path, name, stem in zip(options["images"], names, file_stems(names), strict=True):
            picture = self._decode(path)
            if picture is None:
                has_failed = True
                continue
            self.stdout.write("\n\n" if told else "", ending="")
            out = options["overlay"]
            if out and out.is_dir():
                out = out / f"{stem}-overlay.png"
            told.append(self._critique(name, picture, page_format, out, options))
        if options["json"] and told:
            whole = told if len(options["images"]) > 1 else told[0]
            options["json"].write_text(json.dumps(whole, indent=1))
        if has_failed:
            sys.exit(2)

    def _critique(
        self, name: str, picture: DecodedPicture, page_format: PageFormat, out: Path | None, options: dict[str, Any]
    ) -> dict[str, Any]:
        page = PageUnderCheck(
            picture.gray, options["stage"] or "final", page_format, options["reading"], is_spread=options["spread"],
            bound_at=None if options["spread"] else options["bound"],
        )
        page, runs = run_checks(page)
        self.stdout.write(summary(name, picture.size, page, runs, stage_was_said=bool(options["stage"])))
        if out:
            draw_overlay(picture.image, page.panels, all_found(runs), eye_levels(runs)).save(out)
        return report(name, picture.size, page, runs)

    def _decode(self, path: Path) -> DecodedPicture | None:
        try:
            with path.open("rb") as file:
                return decode_picture(file, settings.UPLOAD_LIMITS)
        except (BoardError, OSError) as error:
            reason = error.message if isinstance(error, BoardError) else error.strerror
            self.stderr.write(f"{path}: {reason}")
            return None

    def _give_up(self, reason: str) -> NoReturn:
        self.stderr.write(reason)
        sys.exit(2)


def trim_size(text: str) -> tuple[float, float]:
    found = TRIM.fullmatch(text.strip())
    if not found:
        raise ArgumentTypeError("say width and height in mm, like 150x225")
    return float(found[1]), float(found[2])


def format_of(options: dict[str, Any]) -> PageFormat:
    """Of a single page, also where two are drawn as one. Raises ValueError for one that no page can have."""
    single = PageFormat(*options["trim"]) if options["trim"] else FORMATS[options["format"]]
    return single if options["bleed"] is None else replace(single, bleed_mm=options["bleed"])


def faults_of_targets(options: dict[str, Any]) -> list[str]:
    """Found before anything is measured: a minute's work should not end in a folder that is not there."""
    faults, overlay = [], options["overlay"]
    for name in ("json", "overlay"):
        out = options[name]
        if out and not out.is_dir() and not os.access(out.parent, os.W_OK):
            faults.append(f"--{name}: there is no folder {out.parent} to write {out.name} into.")
    if options["json"] and options["json"].is_dir():
        faults.append(f"--json: {options['json']} is a folder; name a file in it.")
    if overlay and not overlay.is_dir():
        if len(options["images"]) > 1:
            faults.append("--overlay: of several pictures the overlays go into a folder; name one that is there.")
        elif overlay.suffix.lower() not in Image.registered_extensions():
            faults.append(f"--overlay: {overlay.name} has no ending of a picture; name it like {overlay.stem}.png.")
    return faults
