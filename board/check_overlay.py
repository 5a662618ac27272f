"""Draws what checks found over a page: the same marks that the Desk draws, as a picture."""

from collections.abc import Iterable, Sequence

from PIL import Image, ImageDraw, ImageFont

from board.check_contract import Finding, PanelUnderCheck
from board.page_space import PictureFrame, Point

MEASURED_BLUE, PANEL_GREY, AS_DRAWN = (38, 120, 190), (120, 120, 120), (200, 60, 40)
COLOURS = {"edge": AS_DRAWN, "other-eye-level": AS_DRAWN}
Line = Sequence[tuple[float, float]]
Font = ImageFont.FreeTypeFont | ImageFont.ImageFont


def draw_overlay(
    image: Image.Image, panels: Iterable[PanelUnderCheck], found: Iterable[Finding], eye_levels: Iterable[Line] = ()
) -> Image.Image:
    """A copy of `image` at most 2400 px wide, with panels outlined, their eye levels, and each finding's evidence, labelled."""
    page = image.convert("RGB")
    page.thumbnail((2400, 4800))
    # Half as strong, so that the drawing does not hide what is drawn over it.
    page = Image.blend(page, Image.new("RGB", page.size, "white"), 0.45)
    pen, frame = ImageDraw.Draw(page), PictureFrame(*page.size)
    width = max(2, page.width // 500)
    font = ImageFont.load_default(size=max(12, page.width // 60))
    for panel in panels:
        corners = frame.polygon_to_pixels(panel.polygon)
        pen.line([*corners, corners[0]], PANEL_GREY, width)
        left, top = min(corners, key=sum)  # the upper left one, wherever the outline begins
        _write(pen, (left + 3 * width, top + 3 * width), str(panel.order), PANEL_GREY, width, font)
    for level in eye_levels:
        _draw_mark(pen, "eye-level", frame.polygon_to_pixels(level), "eye level", width, font)
    for finding in found:
        for mark in finding.geometry.get("marks", ()):
            _draw_mark(pen, mark["kind"], frame.polygon_to_pixels(mark["points"]), mark.get("label", ""), width, font)
    return page


def _draw_mark(pen: ImageDraw.ImageDraw, kind: str, points: Line, label: str, width: int, font: Font) -> None:
    colour = COLOURS.get(kind, MEASURED_BLUE)
    if kind == "ray":
        _dashed(pen, points, colour, max(1, width // 2))
    elif len(points) == 1:
        (x, y), r = points[0], 4 * width
        pen.line([(x - r, y), (x + r, y)], colour, width)
        pen.line([(x, y - r), (x, y + r)], colour, width)
    else:
        pen.line([*points, points[0]] if len(points) > 2 else list(points), colour, width)
    if label:
        _write(pen, (points[0][0] + 2 * width, points[0][1] + 2 * width), label, colour, width, font)


def _write(pen: ImageDraw.ImageDraw, at: Point, words: str, colour: tuple[int, int, int], width: int, font: Font) -> None:
    """With a rim of white, so that it is read on any drawing."""
    pen.text(at, words, colour, font, stroke_width=width, stroke_fill="white")


def _dashed(pen: ImageDraw.ImageDraw, points: Line, colour: tuple[int, int, int], width: int) -> None:
    (x0, y0), (x1, y1) = points[0], points[-1]
    length = max(1.0, ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5)
    dash = 12 * width
    for start in range(0, int(min(length, 20_000)), 2 * dash):
        a, b = start / length, min(1.0, (start + dash) / length)
        pen.line([(x0 + a * (x1 - x0), y0 + a * (y1 - y0)), (x0 + b * (x1 - x0), y0 + b * (y1 - y0))], colour, width)
