"""A hull cut back to the straight sides of a piece, past what sticks out of them."""

import numpy as np

from board.vision.convex_polygons import clip_by_line, polygon_area
from board.vision.frame_lines import FrameLine

# Shares from trials on pages and drawn layouts, no source.
MOST_STICKING_OUT = 0.12  # of the piece; more than that is no balloon tip or hat but a part of the panel
LONG_SIDE = 0.7  # of the piece's length: a balloon may stick out over each side that is as whole as this
BORDER_BEHIND = 0.5  # of the piece's length that a border covers, though it may be broken


def frame_polygon(hull: np.ndarray, lines: list[FrameLine], tolerance_px: float) -> tuple[np.ndarray, list[FrameLine]]:
    """The convex `hull` (K, 2) without what sticks out over the `lines`, and those of the lines that are its sides, in px."""
    polygon, sides = hull, []
    for line in lines:
        if _has_side_behind(line, lines, hull, tolerance_px):
            continue
        clipped = clip_by_line(polygon, line.normal, outer_offset(line))
        whole = polygon if line.support >= LONG_SIDE * float(np.ptp(hull @ line.along)) else hull
        if polygon_area(whole) - polygon_area(clipped) <= MOST_STICKING_OUT * polygon_area(hull):
            polygon = clipped
            sides.append(line)
    # A side that another one cut off belonged to what sticks out.
    return polygon, [line for line in sides if float((polygon @ line.normal).max()) >= outer_offset(line) - tolerance_px]


def outer_offset(line: FrameLine) -> float:
    """Outline points are middles of pixels counted from 0: the side itself lies at the outer edge of those pixels."""
    return line.offset + 0.5 * float(np.abs(line.normal).sum()) + 0.5 * float(line.normal.sum())


def _has_side_behind(line: FrameLine, lines: list[FrameLine], hull: np.ndarray, tolerance_px: float) -> bool:
    """Whether another long line runs along outside of this one: then this one is a line in the drawing, not the border."""
    for other in lines:
        if other.normal @ line.normal < 0.97 or other.support < BORDER_BEHIND * float(np.ptp(hull @ other.along)):
            continue
        middle = other.normal * other.offset + other.along * (sum(other.span) / 2)
        if float(middle @ line.normal) - line.offset > 2 * tolerance_px:
            return True
    return False
