"""What a note draws over the page: strokes of a pen and arrows, kept as vectors in page coordinates.

A line is `{"kind": "stroke" | "arrow", "points": [[x, y], …]}`; an arrow points at the last of its two points; a stroke may carry
`pressures`, 0 to 1, one for each point. No NumPy here.
"""

from collections.abc import Callable, Sequence
from math import atan2, cos, isfinite, pi, sin
from typing import Any

from board.page_space import Point, bounds, read_region

Lines = list[dict[str, Any]]
STROKE, ARROW = LINE_KINDS = ("stroke", "arrow")
MOST_LINES = 60  # of one note
MOST_POINTS = 500  # of one line, as of one outline
MOST_POINTS_IN_ALL = 6000
FINEST = 5  # decimals: a hundred-thousandth of the page is less than a pixel of any upload
LEAST_SIDE = 0.004  # of a region around lines that run straight across or down: it has to enclose something
SHAPE = 'A line is {"kind": "stroke" or "arrow", "points": [[x, y], …]}; a stroke may have "pressures".'


def read_lines(lines: object) -> Lines:
    """Lines as people send them, checked and made plain. Raises ValueError with the sentence that people read."""
    if not isinstance(lines, list) or not all(isinstance(line, dict) for line in lines):
        raise ValueError(SHAPE)
    if len(lines) > MOST_LINES:
        raise ValueError(f"A note draws at most {MOST_LINES} lines. Pin another note for the rest.")
    read = [_read_line(line) for line in lines]
    if sum(len(line["points"]) for line in read) > MOST_POINTS_IN_ALL:
        raise ValueError(f"The lines of a note have at most {MOST_POINTS_IN_ALL} points together.")
    return read


def _read_line(line: dict) -> dict[str, Any]:
    kind, points = line.get("kind"), line.get("points")
    if set(line) - {"kind", "points", "pressures"} or kind not in LINE_KINDS or not isinstance(points, list):
        raise ValueError(SHAPE)
    if kind == ARROW and len(points) != 2:
        raise ValueError("An arrow has two points: where it begins, and what it points at.")
    if not 2 <= len(points) <= MOST_POINTS:
        raise ValueError(f"A stroke has 2 to {MOST_POINTS} points.")
    placed = [[round(v, FINEST) for v in read_region({"point": point})["point"]] for point in points]
    if all(point == placed[0] for point in placed):
        raise ValueError("A line has to lead somewhere: its points are all the same.")
    pressures = line.get("pressures")
    return {"kind": kind, "points": placed, **({"pressures": _read_pressures(kind, pressures, len(points))} if pressures else {})}


def _read_pressures(kind: str, pressures: object, count: int) -> list[float]:
    if kind != STROKE or not isinstance(pressures, list) or len(pressures) != count:
        raise ValueError("A stroke has one pressure for each of its points, or none.")
    if not all(isinstance(v, (int, float)) and not isinstance(v, bool) and isfinite(v) and 0 <= v <= 1 for v in pressures):
        raise ValueError("A pressure is a number from 0 to 1.")
    return [round(float(v), 3) for v in pressures]


def region_around(lines: Lines) -> dict[str, list]:
    """The box that holds them all: where a note stands that says no region of its own."""
    left, top, right, bottom = bounds([point for line in lines for point in line["points"]])
    left, right = _apart(left, right)
    top, bottom = _apart(top, bottom)
    return {"polygon": [[left, top], [right, top], [right, bottom], [left, bottom]]}


def _apart(low: float, high: float) -> tuple[float, float]:
    if high - low >= LEAST_SIDE:
        return low, high
    middle = min(1 - LEAST_SIDE / 2, max(LEAST_SIDE / 2, (low + high) / 2))
    return round(middle - LEAST_SIDE / 2, FINEST), round(middle + LEAST_SIDE / 2, FINEST)


def moved_lines(lines: Lines, move: Callable[[Sequence[Sequence[float]]], Sequence[Sequence[float]]]) -> Lines:
    """On another picture of the page: `move` gives its points for those of this one."""
    return [{**line, "points": [[round(v, FINEST) for v in point] for point in move(line["points"])]} for line in lines]


def drawn_paths(line: dict[str, Any], at: Callable[[Sequence[float]], Point], head: float) -> list[tuple[Point, ...]]:
    """What a pen does: the line, and at the end of an arrow its two barbs. `at` places a point; `head` is long as `at` measures."""
    points = tuple(at(point) for point in line["points"])
    if line["kind"] != ARROW:
        return [points]
    (from_x, from_y), (x, y) = points
    back = atan2(from_y - y, from_x - x)
    first, second = ((x + head * cos(back + turn), y + head * sin(back + turn)) for turn in (-pi / 7, pi / 7))
    return [points, (first, (x, y), second)]
