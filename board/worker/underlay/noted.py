"""Notes as printers' crop marks around their regions, with the first words of each and the lines that it draws."""

from collections.abc import Iterator
from typing import Any

from board.drawn_lines import drawn_paths
from board.page_space import PictureFrame, Point, bounds
from board.worker.underlay.layer import Layer
from board.worker.underlay.lettering import write_upwards
from board.worker.underlay.style import letters_px, page_height_px

MOST_LETTERS = 64
STAND_OFF, TICK = 1 / 500, 1 / 120  # of the page's height
POINT_REACH = 1 / 150
ARROW_HEAD = 1 / 90


def mark_notes(layer: Layer, notes: list[dict[str, Any]], frame: PictureFrame) -> None:
    """`notes`: [{"region", "lines", "body", "kind": "person" | "measured"}]."""
    height_px = page_height_px(frame.width_px, frame.height_px)
    for note in notes:
        box = _box_px(note["region"], frame, height_px)
        layer.draw(note["kind"], *_crop_marks(box, height_px))
        at = box[0], box[1] - height_px * (STAND_OFF + TICK)
        room = {"room_px": frame.width_px - box[0], "letters_px": letters_px(height_px)}
        write_upwards(layer, at, _short(note["body"]), note["kind"], **room)
        for line in note["lines"]:
            layer.draw(note["kind"], *drawn_paths(line, frame.to_pixels, ARROW_HEAD * height_px))


def _box_px(region: dict[str, Any], frame: PictureFrame, height_px: float) -> tuple[float, float, float, float]:
    if "polygon" in region:
        return bounds(frame.polygon_to_pixels(region["polygon"]))
    (x, y), reach = frame.to_pixels(region["point"]), POINT_REACH * height_px
    return x - reach, y - reach, x + reach, y + reach


def _crop_marks(box: tuple[float, float, float, float], height_px: float) -> Iterator[tuple[Point, Point]]:
    left, top, right, bottom = box
    near, far = STAND_OFF * height_px, (STAND_OFF + TICK) * height_px
    for x, out_x in ((left, -1), (right, 1)):
        for y, out_y in ((top, -1), (bottom, 1)):
            yield (x + out_x * near, y), (x + out_x * far, y)
            yield (x, y + out_y * near), (x, y + out_y * far)


def _short(body: str) -> str:
    line = " ".join(body.split())
    return line if len(line) <= MOST_LETTERS else line[:MOST_LETTERS].rsplit(" ", 1)[0] + " …"
