"""Recall by kind, stage and size of fault, as a picture."""

from collections.abc import Mapping, Sequence
from pathlib import Path

from PIL import Image, ImageDraw, ImageFont

from tests.bench.fault_matching import Outcome

CELL, HEAD, ROW = (74, 34), 250, 40


def draw_table(outcomes: list[Outcome], amounts: Mapping[str, Sequence[float]], stages: Sequence[str], path: Path) -> None:
    rows = [(stage, kind) for stage in stages for kind in amounts]
    widest = max(len(sizes) for sizes in amounts.values())
    image = Image.new("RGB", (HEAD + widest * CELL[0] + 20, ROW * len(rows) + 60), "white")
    pen, font = ImageDraw.Draw(image), ImageFont.load_default(size=14)
    pen.text((10, 12), "Share of seeded faults found, by size of fault", "black", font)
    for r, (stage, kind) in enumerate(rows):
        y = 44 + r * ROW
        pen.text((10, y + 8), f"{stage}, {kind}", "black", font)
        for c, amount in enumerate(amounts[kind]):
            cell = [o for o in outcomes if (o.stage, o.kind) == (stage, kind) and abs(o.amount - amount) < 1e-9]
            share = sum(o.found for o in cell) / len(cell) if cell else 0.0
            x, paper = HEAD + c * CELL[0], round(255 - 150 * share)
            pen.rectangle((x, y, x + CELL[0] - 4, y + CELL[1]), fill=(paper, 235, 245), outline="black")
            pen.text((x + 6, y + 2), f"{amount:g}", "black", font)
            pen.text((x + 6, y + 16), f"{100 * share:.0f} %" if cell else "none", "black", font)
    path.parent.mkdir(exist_ok=True)
    image.save(path)
