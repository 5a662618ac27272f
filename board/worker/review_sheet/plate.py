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
from board.worker.review_sheet.paper import ACROSS
from board.worker.review_sheet.pieces import Piece, how_many
from board.worker.review_sheet.told import ToldPage

HIGH, HIGH_ALONE = 460.0, 650.0  # of the picture, with notes and without any
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

    @property
    def tall(self) -> float:
        """Its height over its width."""
        return self.height_px / self.width_px

    def draw(self, canvas: Canvas, left: float, bottom: float, width: float, height: float) -> None:
        canvas.drawImage(self.path, left, bottom, width, height)


def picture_of(revision: Revision, longest_px: int, folder: Path) -> PlatePicture | None:
    """The nearest smaller copy, in grey where the drawing has no colour; None where there is no copy yet. `longest_px`: of a
    picture in one piece."""
    copies = list(revision.picture.renditions.all())
    if not copies:
        return None
    longest_px *= how_many(copies[0].height_px / copies[0].width_px, ACROSS, HIGH)
    copies.sort(key=lambda one: abs(max(one.width_px, one.height_px) - longest_px))
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


def draw_plate(canvas: Canvas, told: ToldPage, picture: PlatePicture, pieces: Sequence[Piece]) -> None:
    for piece in pieces:
        _draw_piece(canvas, told, picture, piece)


def _draw_piece(canvas: Canvas, told: ToldPage, picture: PlatePicture, piece: Piece) -> None:
    place, box = piece.place, piece.box
    canvas.saveState()
    _clip(canvas, box)
    left, bottom, right, top = piece.whole
    picture.draw(canvas, left, bottom, right - left, top - bottom)
    for shape in told.panels:
        _outline(canvas, [place(point) for point in shape.polygon], str(shape.order), shape.panel.own_state)
    taken: list[Box] = []
    for note in told.notes:
        if note.finding is not None and told.revision is not None and note.finding.revision_id == told.revision.pk:
            evidence(canvas, note.finding.geometry.get("marks", ()), place, box, taken)
        drawn_over(canvas, note.lines, place)
    canvas.restoreState()
    for note in told.notes:
        held = _box_of(note.region, place) if note.region else None
        if held and held[1] < box[3] and held[3] > box[1]:
            held = held[0], max(held[1], box[1]), held[2], min(held[3], box[3])
            crop_marks(canvas, held, note.is_measured, note.letter)
    canvas.setStrokeColor(FAINT)
    canvas.setLineWidth(0.5)
    canvas.rect(box[0], box[1], box[2] - box[0], box[3] - box[1], fill=0)


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
