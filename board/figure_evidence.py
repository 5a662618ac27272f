"""What is drawn over a page to show why a figure is off: its axis, its post, the eye level, the box around it. Page coordinates."""

from collections.abc import Sequence
from math import dist
from typing import Any

from board.check_contract import PanelUnderCheck
from board.figure_posts import Post
from board.figure_proportions import FigureAxis
from board.horizon_line import Line
from board.page_space import PictureFrame, Point, bounds

PAD = 0.2  # of the tallest figure's height, at the sides of its box
TICK = 0.06  # of a figure's height: half a tick's length, about half the width of a head


def mark(frame: PictureFrame, kind: str, points_px: Sequence[Point], label: str = "") -> dict[str, Any]:
    drawn: dict[str, Any] = {"kind": kind, "points": [list(frame.to_page(point)) for point in points_px]}
    return {**drawn, "label": label} if label else drawn


def post_marks(frame: PictureFrame, post: Post, label: str) -> list[dict[str, Any]]:
    """The post itself, from its top down, and a tick for each head."""
    return [mark(frame, "post", [post.top, post.foot], label), *(mark(frame, "tick", tick.ends) for tick in post.ticks)]


def tick_across(frame: PictureFrame, axis: FigureAxis, level: float, kind: str, label: str = "") -> dict[str, Any]:
    """A short line across a figure at a share of its stature."""
    x, y = axis.at(level)
    across = TICK * (axis.sole[1] - axis.crown[1]), TICK * (axis.crown[0] - axis.sole[0])
    return mark(frame, kind, [(x - across[0], y - across[1]), (x + across[0], y + across[1])], label)


def eye_level_mark(frame: PictureFrame, panel: PanelUnderCheck, horizon: Line) -> dict[str, Any]:
    """Across the panel, from side to side."""
    a, b, c = horizon
    left, _, right, _ = bounds(frame.polygon_to_pixels(panel.polygon))
    return mark(frame, "eye-level", [(x, -(a * x + c) / b) for x in (left, right)])


def box_around(frame: PictureFrame, axes_px: Sequence[tuple[Point, Point]]) -> dict[str, Any]:
    """The region that holds figures, each given by its soles and its crown, inside the picture."""
    pad_px = PAD * max(dist(*axis) for axis in axes_px)
    left, top, right, bottom = bounds([point for axis in axes_px for point in axis])
    corners = frame.to_page((left - pad_px, top)), frame.to_page((right + pad_px, bottom))
    (x0, y0), (x1, y1) = ((min(1.0, max(0.0, x)), min(1.0, max(0.0, y))) for x, y in corners)
    return {"polygon": [[x0, y0], [x1, y0], [x1, y1], [x0, y1]]}
