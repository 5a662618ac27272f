"""Finds the panels of the page and says where their order is doubtful; later checks work from the panels that it gives."""

import numpy as np

from board.check_contract import CheckResult, Finding, Findings, PageUnderCheck
from board.not_measured import NotMeasured
from board.page_space import PictureFrame
from board.vision.panel_frames import find_panels


def check(page: PageUnderCheck) -> CheckResult:
    """Panels in reading order as `numbers`; a finding only where two orders are equally fair to read."""
    layout = find_panels(page.gray, reading=page.reading)
    if not layout.panels:
        return NotMeasured("No panel was found: the page is of one tone, or its drawing is too faint to tell from its ground.")
    frame = PictureFrame(page.gray.shape[1], page.gray.shape[0])
    polygons = [_on_page(polygon, frame) for polygon in layout.panels]
    numbers = {
        "panels": [{"polygon": polygon, "framed": framed} for polygon, framed in zip(polygons, layout.framed, strict=True)],
        "order_doubtful": layout.order_doubtful,
    }
    found = (_doubt(polygons),) if layout.order_doubtful else ()
    return Findings(found=found, numbers=numbers)


def _on_page(polygon: np.ndarray, frame: PictureFrame) -> list[list[float]]:
    corners = frame.polygon_to_page(polygon.tolist())
    return [[min(1.0, max(0.0, round(x, 6))), min(1.0, max(0.0, round(y, 6)))] for x, y in corners]


def _doubt(polygons: list[list[list[float]]]) -> Finding:
    xs, ys = zip(*(corner for polygon in polygons for corner in polygon), strict=True)
    left, top, right, bottom = min(xs), min(ys), max(xs), max(ys)
    marks = [{"kind": "outline", "points": polygon, "label": str(k)} for k, polygon in enumerate(polygons, 1)]
    return Finding(
        finding="order-doubtful", panel=None, measured=2.0, expected=1.0, tolerance=0.0, unit="orders", confidence=0.6,
        text="These panels can be read in more than one order; the numbers show the likeliest. A reader who takes the other way "
             "loses the thread. A wider gutter, a panel edge that lines up or a balloon that leads across makes it plain.",
        geometry={"region": {"polygon": [[left, top], [right, top], [right, bottom], [left, bottom]]}, "marks": marks},
    )
