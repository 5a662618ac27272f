"""Finds the panels of the page and says where their order is doubtful; later checks work from the panels that it gives."""

import numpy as np

from board.check_contract import CheckResult, Finding, Findings, PageUnderCheck
from board.not_measured import NotMeasured
from board.page_space import PictureFrame
from board.vision.convex_polygons import polygon_area
from board.vision.page_piece import page_side_px
from board.vision.panel_frames import find_panels

MOST_OF_STRIP = 0.6  # one panel; of a strip more than twice as long as wide. Our own choice


def check(page: PageUnderCheck) -> CheckResult:
    """Panels in reading order as `numbers`; a finding only where two orders are equally fair to read, or where panels have likely
    run together: one that fills most of a long strip."""
    layout = find_panels(page.gray, reading=page.reading)
    if not layout.panels:
        return NotMeasured("No panel was found: the page is of one tone, or its drawing is too faint to tell from its ground.")
    frame = PictureFrame(page.gray.shape[1], page.gray.shape[0])
    polygons = [_on_page(polygon, frame) for polygon in layout.panels]
    numbers = {
        "panels": [{"polygon": polygon, "framed": framed} for polygon, framed in zip(polygons, layout.framed, strict=True)],
        "order_doubtful": layout.order_doubtful,
    }
    found: tuple[Finding, ...] = (_doubt(polygons),) if layout.order_doubtful else ()
    if page_side_px(page.gray.shape) < max(page.gray.shape):
        areas = [polygon_area(polygon) / page.gray.size for polygon in layout.panels]
        found += tuple(_run_together(polygon, area) for polygon, area in zip(polygons, areas, strict=True) if area >= MOST_OF_STRIP)
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


def _run_together(polygon: list[list[float]], area: float) -> Finding:
    share = round(100 * area, 1)
    return Finding(
        finding="one-panel", panel=None, measured=share, expected=100 * MOST_OF_STRIP, tolerance=0.0, unit="% of the picture",
        confidence=0.5,
        text=f"One panel was found that fills {share:.0f} % of this strip. Where the ground between panels changes its tone in "
             "steps on the way down, they cannot be told apart. If there are more, outline them by hand: what is measured rests on "
             "the panels.",
        geometry={"region": {"polygon": polygon}, "marks": [{"kind": "outline", "points": polygon, "label": "1"}]},
    )
