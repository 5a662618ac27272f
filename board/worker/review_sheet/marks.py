"""Marks of our own, as on the Desk: tones, stages, crop marks, the evidence of a finding. `y` runs up, as on PDF pages."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from reportlab.lib.colors import white
from reportlab.pdfgen.canvas import Canvas

from board.drawn_lines import Lines, drawn_paths
from board.worker.review_sheet.look import BLUE, BLUE_LINE, GRAPHITE, RED, RED_LINE
from board.worker.review_sheet.typefaces import FIGURES, width_of, write

Box = tuple[float, float, float, float]  # left, bottom, right, top
Place = Callable[[Sequence[float]], tuple[float, float]]  # page coordinates -> points on the sheet
STAND_OFF, TICK = 2.5, 6.0
RIM = 2.6  # of paper around what has to be read on any drawing
LABEL = 6.5
ARROW_HEAD = 6.0
DASHES = {"support": (1, 2), "true-edge": (4, 2), "ray": (1, 2), "eye-level": (6, 2), "limit": (5, 2, 1, 2)}
# Curves of each tone in a square of 16 units, y down: M x y, L x y, C six numbers.
TONES: dict[str, tuple[str, ...]] = {
    "must": ("M2 2 L14 2 L2 14 Z",),
    "try": ("M2 13 C5 12 6 5 8 5 C10 5 10 11 14 11", "M11 8 L14 11 L11 14"),
    "ask": ("M4 6 C4 1 12 1 12 6 C12 9 8 9 8 12", "M8 14.5 L8 14.7"),
    "keep": ("M2 8 L6 12 L14 3", "M2 15 L14 15"),
    "measured": ("M2 3 L2 13", "M14 3 L14 13", "M2 8 L14 8"),
}
STAGE_LINES = {"thumbnail": 0.7, "pencil": 1.1, "final": 3.0}


def tone_mark(canvas: Canvas, tone: str, x: float, y: float, size: float = 8.0) -> None:
    """`x`, `y`: its lower left corner."""
    canvas.saveState()
    colour = BLUE if tone == "measured" else RED
    canvas.setStrokeColor(colour)
    canvas.setFillColor(colour)
    canvas.setLineWidth(1.0)
    canvas.setLineCap(1)
    for curve in TONES[tone]:
        _draw_curve(canvas, curve, lambda u, v: (x + u * size / 16, y + size - v * size / 16))
    canvas.restoreState()


def _draw_curve(canvas: Canvas, curve: str, at: Callable[[float, float], tuple[float, float]]) -> None:
    path, words = canvas.beginPath(), curve.replace("M", "M ").replace("L", "L ").replace("C", "C ").split()
    is_closed = words[-1] == "Z"
    while words and words[0] != "Z":
        kind = words.pop(0)
        points = [at(float(words.pop(0)), float(words.pop(0))) for _ in range(3 if kind == "C" else 1)]
        {"M": path.moveTo, "L": path.lineTo, "C": path.curveTo}[kind](*(value for point in points for value in point))
    if is_closed:
        path.close()
    canvas.drawPath(path, stroke=1, fill=int(is_closed))


def stage_mark(canvas: Canvas, stage: str, x: float, y: float, width: float = 26.0) -> None:
    """A line as loose or as firm as the page is at that stage."""
    canvas.saveState()
    canvas.setStrokeColor(GRAPHITE)
    canvas.setLineWidth(STAGE_LINES[stage])
    path = canvas.beginPath()
    path.moveTo(x, y)
    if stage == "thumbnail":
        path.curveTo(x + width / 4, y + 5, x + width / 3, y - 5, x + width / 2, y)
        path.curveTo(x + 2 * width / 3, y + 4, x + 3 * width / 4, y - 4, x + width, y + 1)
    else:
        path.lineTo(x + width, y + (0.8 if stage == "pencil" else 0))
    canvas.drawPath(path)
    canvas.restoreState()


def crop_marks(canvas: Canvas, box: Box, is_measured: bool, called: str) -> None:
    """A region is held by four corner ticks that stand off from it; its letter stands outside the upper left one."""
    left, bottom, right, top = box
    ticks = []
    for x, out_x in ((left, -1), (right, 1)):
        for y, out_y in ((bottom, -1), (top, 1)):
            ticks.append((x + out_x * STAND_OFF, y, x + out_x * (STAND_OFF + TICK), y))
            ticks.append((x, y + out_y * STAND_OFF, x, y + out_y * (STAND_OFF + TICK)))
    canvas.saveState()
    for colour, width in ((white, RIM), (BLUE_LINE if is_measured else RED_LINE, 1.1)):
        canvas.setStrokeColor(colour)
        canvas.setLineWidth(width)
        canvas.lines(ticks)
    canvas.setFillColor(BLUE if is_measured else RED)
    label(canvas, called, left - STAND_OFF - TICK - 1, top + STAND_OFF + 1, 8)
    canvas.restoreState()


def drawn_over(canvas: Canvas, lines: Lines, place: Place) -> None:
    """Strokes and arrows of a person's note, with a rim of paper as its crop marks have."""
    canvas.saveState()
    canvas.setLineCap(1)
    canvas.setLineJoin(1)
    for colour, width in ((white, RIM), (RED_LINE, 1.1)):
        canvas.setStrokeColor(colour)
        canvas.setLineWidth(width)
        for first, *rest in (points for line in lines for points in drawn_paths(line, place, ARROW_HEAD)):
            path = canvas.beginPath()
            path.moveTo(*first)
            for point in rest:
                path.lineTo(*point)
            canvas.drawPath(path)
    canvas.restoreState()


def label(canvas: Canvas, words: str, x: float, y: float, size: float) -> None:
    """Figures with a rim of paper, so that they are read on any drawing."""
    canvas.saveState()
    canvas.setStrokeColor(white)
    canvas.setLineWidth(RIM)
    canvas.setLineJoin(1)
    write(canvas, x, y, words, FIGURES, size, mode=1)
    canvas.restoreState()
    write(canvas, x, y, words, FIGURES, size)


def evidence(canvas: Canvas, marks: Sequence[Mapping[str, Any]], place: Place, box: Box, taken: list[Box]) -> None:
    """What a finding rests on. The caller clips to `box`: vanishing points mostly lie off it. `taken`: where labels stand."""
    for mark in marks:
        points = [place(point) for point in mark["points"]]
        canvas.saveState()
        canvas.setStrokeColor(BLUE if mark["kind"] in ("edge", "meeting-point") else BLUE_LINE)
        canvas.setFillColor(BLUE)
        canvas.setLineWidth(1.3 if mark["kind"] == "edge" else 0.7)
        canvas.setDash(*([list(DASHES[mark["kind"]])] if mark["kind"] in DASHES else []))
        _draw_mark(canvas, points)
        if mark.get("label"):
            x, y = points[0] if len(points) != 2 else ((points[0][0] + points[1][0]) / 2, (points[0][1] + points[1][1]) / 2)
            if box[0] <= x <= box[2] and box[1] <= y <= box[3]:
                label(canvas, mark["label"], *free_spot(mark["label"], x + 3, y + 3, box, taken), LABEL)
        canvas.restoreState()


def free_spot(words: str, x: float, y: float, box: Box, taken: list[Box]) -> tuple[float, float]:
    """Inside the box, and above what is written there already; below it where the box ends."""
    wide = width_of(words, FIGURES, LABEL)
    highest = box[3] - LABEL - RIM / 2
    x, y = max(box[0] + RIM / 2, min(x, box[2] - wide - RIM / 2)), min(y, highest)
    beside = [(bottom, top) for left, bottom, right, top in taken if x < right and x + wide > left]
    steps = [step * (LABEL + 1) for step in range(2 * len(beside) + 2)]
    tries = [*(y + step for step in steps), *(y - step for step in steps)]
    free = (one for one in tries if one <= highest and not any(one < top and one + LABEL > bottom for bottom, top in beside))
    y = next(free, y)
    taken.append((x, y, x + wide, y + LABEL))
    return x, y


def _draw_mark(canvas: Canvas, points: Sequence[tuple[float, float]]) -> None:
    if len(points) == 1:
        (x, y), reach = points[0], 5.0
        canvas.circle(x, y, reach / 2, fill=0)
        canvas.line(x - reach, y, x + reach, y)
        canvas.line(x, y - reach, x, y + reach)
        return
    path = canvas.beginPath()
    path.moveTo(*points[0])
    for point in points[1:]:
        path.lineTo(*point)
    if len(points) > 2:
        path.close()
    canvas.drawPath(path)
