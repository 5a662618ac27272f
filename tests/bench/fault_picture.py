"""Recall by kind, stage and size of fault, and precision by finding, as a picture."""

from collections.abc import Sequence
from math import isnan
from pathlib import Path

from PIL import Image, ImageDraw, ImageFont

from fixtures.bench_faults import AMOUNTS
from tests.bench.fault_matching import ANSWERS, Outcome
from tests.bench.fault_table import cell_of, percent, precision

CELL, HEAD, ROW, TOP = (86, 36), 250, 42, 60
INK = (40, 38, 42)


def draw_table(outcomes: Sequence[Outcome], stages: Sequence[str], path: Path) -> None:
    lines = [(stage, kind) for stage in stages for kind in AMOUNTS]
    columns = max(map(len, AMOUNTS.values())) + 1
    image = Image.new("RGB", (HEAD + columns * CELL[0] + 20, TOP + ROW * len(lines) + 20), "white")
    pen, font = ImageDraw.Draw(image), ImageFont.load_default(size=14)
    pen.text((10, 10), "Seeded faults: share found, by size of fault (degrees, share of panel height, %, heads)", INK, font)
    pen.text((10, 30), "Last column: precision of the finding at this stage, clean panels included", INK, font)
    for row, (stage, kind) in enumerate(lines):
        y = TOP + ROW * row
        pen.text((10, y + 9), f"{stage}: {kind}", INK, font)
        for column, amount in enumerate(AMOUNTS[kind]):
            cell = cell_of(outcomes, stage, kind, amount)
            share = percent(sum(one.found for one in cell), len(cell))
            _cell(pen, (HEAD + column * CELL[0], y), f"{amount:g}", share, font)
        here = [one for one in outcomes if one.stage == stage]
        _cell(pen, (HEAD + (columns - 1) * CELL[0], y), "precision", precision(here, ANSWERS[kind]), font)
    path.parent.mkdir(exist_ok=True)
    image.save(path)


def _cell(pen: ImageDraw.ImageDraw, at: tuple[int, int], label: str, value: float, font: ImageFont.FreeTypeFont) -> None:
    x, y = at
    tone = 255 if isnan(value) else round(255 - 1.5 * value)
    pen.rectangle((x, y, x + CELL[0] - 4, y + CELL[1]), fill=(tone, 240, 250), outline=INK)
    pen.text((x + 6, y + 2), label, INK, font)
    pen.text((x + 6, y + 17), "none" if isnan(value) else f"{value:.0f} %", INK, font)
