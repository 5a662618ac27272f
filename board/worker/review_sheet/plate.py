"""A page's picture on paper: its panels outlined, its notes' regions held by crop marks, and the evidence of findings over it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from PIL import Image, ImageStat
from reportlab.pdfgen.canvas import Canvas

from board.models import Revision
from board.page_space import bounds
from board.picture_files import open_file
from board.worker.review_sheet.look import BLUE_LINE, FAINT, RED, RED_LINE
from board.worker.review_sheet.marks import Box, Place, crop_marks, drawn_over, evidence, label
from board.worker.review_sheet.told import ToldPage

SHARP_PX, MANY_PX = 1200, 900  # longest side in the file: of a few pages, and of many
MANY_PAGES = 60
QUALITY = 80
COLOURED = 6.0  # mean saturation, 0..255
POINT_REACH = 4.0


@dataclass(frozen=True)
class PlatePicture:
    """A JPEG file: taken into the PDF as it is, once, however often it is drawn."""

    path: str
    width_px: int
    height_px: int

    def fitted(self, width: float, height: float) -> tuple[float, float]:
        scale = min(width / self.width_px, height / self.height_px)
        return self.width_px * scale, self.height_px * scale

    def draw(self, canvas: Canvas, left: float, bottom: float, width: float, height: float) -> None:
        canvas.drawImage(self.path, left, bottom, width, height)


def picture_of(revision: Revision, longest_px: int, folder: Path) -> PlatePicture | None:
    """The nearest smaller copy: in grey where the drawing has no colour. None where there is no copy yet."""
    copies = sorted(revision.picture.renditions.all(), key=lambda one: abs(max(one.width_px, one.height_px) - longest_px))
    if not copies:
        return None
    with open_file(copies[0].file_name) as file, Image.open(file) as read:
        image = read.convert("RGB")
    image.thumbnail((longest_px, longest_px))
    small = image.copy()
    small.thumbnail((200, 200))
    if ImageStat.Stat(small.convert("HSV")).mean[1] < COLOURED:
        image = image.convert("L")
    path = folder / f"{revision.pk}.jpg"
    image.save(path, "JPEG", quality=QUALITY)
    return PlatePicture(str(path), *image.size)


def draw_plate(canvas: Canvas, told: ToldPage, picture: PlatePicture, box: Box) -> None:
    left, bottom, right, top = box

    def place(point: Sequence[float]) -> tuple[float, float]:
        return left + point[0] * (right - left), top - point[1] * (top - bottom)

    picture.draw(canvas, left, bottom, right - left, top - bottom)
    canvas.saveState()
    _clip(canvas, box)
    for shape in told.panels:
        _outline(canvas, [place(point) for point in shape.polygon], str(shape.order), shape.panel.own_state)
    taken: list[Box] = []
    for note in told.notes:
        if note.finding is not None and told.revision is not None and note.finding.revision_id == told.revision.pk:
            evidence(canvas, note.finding.geometry.get("marks", ()), place, box, taken)
        drawn_over(canvas, note.lines, place)
    canvas.restoreState()
    for note in told.notes:
        if note.region:
            crop_marks(canvas, _box_of(note.region, place), note.is_measured, note.letter)
    canvas.setStrokeColor(FAINT)
    canvas.setLineWidth(0.5)
    canvas.rect(left, bottom, right - left, top - bottom, fill=0)


def _clip(canvas: Canvas, box: Box) -> None:
    path = canvas.beginPath()
    path.rect(box[0], box[1], box[2] - box[0], box[3] - box[1])
    canvas.clipPath(path, stroke=0, fill=0)


def _outline(canvas: Canvas, points: Sequence[tuple[float, float]], order: str, own_state: str) -> None:
    canvas.saveState()
    canvas.setStrokeColor(RED_LINE if own_state else BLUE_LINE)
    canvas.setFillColor(RED if own_state else BLUE_LINE)
    canvas.setLineWidth(1.4 if own_state else 0.6)
    canvas.setDash([7, 3.5] if own_state else [2, 2])
    path = canvas.beginPath()
    path.moveTo(*points[0])
    for point in points[1:]:
        path.lineTo(*point)
    path.close()
    canvas.drawPath(path)
    canvas.setDash([])
    label(canvas, f"{order} {own_state}".strip(), min(x for x, _ in points) + 3, min(y for _, y in points) + 4, 7)
    canvas.restoreState()


def _box_of(region: Mapping, place: Place) -> Box:
    if "point" in region:
        x, y = place(region["point"])
        return x - POINT_REACH, y - POINT_REACH, x + POINT_REACH, y + POINT_REACH
    x0, y0, x1, y1 = bounds(region["polygon"])
    (left, top), (right, bottom) = place((x0, y0)), place((x1, y1))
    return left, bottom, right, top
