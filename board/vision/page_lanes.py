"""Panels without frames on a page whose panels stand in tiers: each fills its cell between the bare lanes of the page."""

from collections.abc import Iterator

import cv2
import numpy as np

from board.vision.convex_polygons import polygon_area, shared_area
from board.vision.open_panels import corners
from board.vision.page_ground import PageGround
from board.vision.page_piece import PieceScale
from board.vision.shared_borders import runs_of

# From trials on drawn layouts and pages, no source.
NARROWEST, WIDEST = 0.006, 0.03  # of the longer side of the page
# Of a row of a lane, what sticks out of panels: as the page is drawn, tight or loose.
MOST_DRAWN = 0.01, 0.015, 0.02, 0.025, 0.03, 0.035
LEAST_SIDE = 0.08  # of the longer side, of a cell
SAME_WIDTH = 0.5  # so far may a lane be wider or narrower than the page's lanes mostly are
SAME_PANEL = 0.8  # of both together that a panel and a cell share
MOST_HIDDEN = 0.4  # of a row of a lane, by balloons
MOST_BARE = 0.3  # of a side of a cell, at either end: more is not the panel's
LEAST_UPRIGHT = 0.95  # of its own box that an upright frame fills
LEAST_CONCERNED = 0.25  # of a cell that an open panel overlaps

Box = tuple[int, int, int, int]  # left, top, right, bottom


def settle_open(
    polygons: list[np.ndarray], framed: list[bool], page: PageGround, scale: PieceScale
) -> tuple[list[np.ndarray], list[bool]]:
    """The panels again: in a cell of the page's lanes that open panels were found in, but not as the cell, the cell itself.

    polygons: (K, 2) in px of the page's masks; framed: which of them have a frame.
    """
    if all(framed):
        return polygons, framed
    found_open = [polygon for polygon, has_frame in zip(polygons, framed, strict=True) if not has_frame]
    real = [k for k, one in enumerate(polygons) if not framed[k] or _is_upright(one) or not _lies_within(one, found_open)]
    polygons, framed = [polygons[k] for k in real], [framed[k] for k in real]
    frames = [polygon for polygon, has_frame in zip(polygons, framed, strict=True) if has_frame and _is_frame(polygon, found_open)]
    drawn = np.dstack([~page.paper & ~page.balloons, page.balloons]).astype(np.uint8)
    tries = [cells for share in MOST_DRAWN if len(cells := _cells(drawn, share, scale)) > 1]
    tries = [cells for cells in tries if all(_lies_in(frame, cells) for frame in frames)]
    if not tries:
        return polygons, framed
    cells = max(tries, key=lambda cells: (sum(_is_same(frame, cell) for frame in frames for cell in cells), -len(cells)))
    open_cells = [cell for cell in cells if _is_open(cell, frames, found_open)]
    kept = [k for k, polygon in enumerate(polygons) if not any(_concerns(polygon, cell) for cell in open_cells)]
    as_found = [next((one for one in found_open if _is_same(one, cell)), cell) for cell in open_cells]
    return [polygons[k] for k in kept] + as_found, [framed[k] for k in kept] + [False] * len(as_found)


def _is_frame(polygon: np.ndarray, found_open: list[np.ndarray]) -> bool:
    """Whether it is an upright frame, and no shape in the drawing of an open panel."""
    area = polygon_area(polygon)
    return _is_upright(polygon) and all(shared_area(polygon, one) < SAME_PANEL * area for one in found_open)


def _is_upright(polygon: np.ndarray) -> bool:
    return polygon_area(polygon) >= LEAST_UPRIGHT * float(np.prod(np.ptp(polygon, axis=0)))


def _lies_within(polygon: np.ndarray, found_open: list[np.ndarray]) -> bool:
    """Whether it lies within an open panel: askew as it is, it is a shape in its drawing."""
    return any(shared_area(polygon, one) >= 0.95 * polygon_area(polygon) for one in found_open)


def _lies_in(frame: np.ndarray, cells: list[np.ndarray]) -> bool:
    return any(_is_same(frame, cell) or shared_area(frame, cell) >= 0.95 * polygon_area(frame) for cell in cells)


def _is_open(cell: np.ndarray, frames: list[np.ndarray], found_open: list[np.ndarray]) -> bool:
    """Whether open panels were found in a cell and no frame, the cell's own or one of several in it."""
    area = polygon_area(cell)
    return any(shared_area(one, cell) >= LEAST_CONCERNED * area for one in found_open) and not any(
        _is_same(frame, cell) or shared_area(frame, cell) >= 0.5 * polygon_area(frame) for frame in frames
    )


def _is_same(polygon: np.ndarray, cell: np.ndarray) -> bool:
    shared = shared_area(polygon, cell)
    return shared >= SAME_PANEL * (polygon_area(polygon) + polygon_area(cell) - shared)


def _concerns(polygon: np.ndarray, cell: np.ndarray) -> bool:
    """Whether much of the smaller of the two lies in the other."""
    return shared_area(polygon, cell) >= 0.5 * min(polygon_area(polygon), polygon_area(cell))


def _cells(drawn: np.ndarray, most_drawn: float, scale: PieceScale) -> list[np.ndarray]:
    """Boxes (4, 2) between lanes of about one width, tiers first; [] where there are none, or one is too small for a panel.

    drawn: uint8 (H, W, 2), 1 where a stroke is seen, and where a balloon lies over the page.
    """
    whole = _without_bare_ends(drawn, (0, 0, drawn.shape[1], drawn.shape[0]), 0.0)
    widths = [width for _, lanes in _parts(drawn, whole, most_drawn, scale, (0.0, np.inf)) for width in lanes]
    if not widths:
        return []
    usual = float(np.median(widths))
    cells = [cell for cell, _ in _parts(drawn, whole, most_drawn, scale, ((1 - SAME_WIDTH) * usual, (1 + SAME_WIDTH) * usual))]
    cells = [_without_bare_ends(drawn, cell, MOST_BARE) for cell in cells]
    return [corners(np.array(cell, float)) for cell in cells] if all(_is_panel(cell, scale) for cell in cells) else []


def _parts(
    drawn: np.ndarray, box: Box, most_drawn: float, scale: PieceScale, width_px: tuple[float, float], axes: tuple[int, ...] = (0, 1)
) -> Iterator[tuple[Box, list[int]]]:
    """The cells of a box, each with the widths of the lanes that part it from others."""
    for axis in axes:
        lanes = [(a, b) for a, b in _lanes(drawn, box, axis, most_drawn, scale) if width_px[0] <= b - a <= width_px[1]]
        if lanes:
            left, top, right, bottom = box
            cuts = [top if axis == 0 else left, *(edge for lane in lanes for edge in lane), bottom if axis == 0 else right]
            for a, b in zip(cuts[::2], cuts[1::2], strict=True):
                part = (left, a, right, b) if axis == 0 else (a, top, b, bottom)
                for cell, widths in _parts(drawn, part, most_drawn, scale, width_px, (1 - axis,)):
                    yield cell, widths + [b - a for a, b in lanes]
            return
    yield box, []


def _lanes(drawn: np.ndarray, box: Box, axis: int, most_drawn: float, scale: PieceScale) -> list[tuple[int, int]]:
    """Runs of rows (axis 0) or columns (axis 1) within a box on which next to nothing is drawn, from and to."""
    left, top, right, bottom = box
    share = _drawn_shares(drawn, box, axis)
    start, end = (top, bottom) if axis == 0 else (left, right)
    lanes = [(start + a, start + b) for a, b in runs_of(share <= most_drawn) if NARROWEST <= (b - a) / scale.longer_px <= WIDEST]
    return [(a, b) for a, b in lanes if min(a - start, end - b) >= scale.least_side_px]


def _drawn_shares(drawn: np.ndarray, box: Box, axis: int) -> np.ndarray:
    """Of each row (axis 0) or column (axis 1) of a box, the share of what is seen that is drawn on; 1 where too little is seen."""
    left, top, right, bottom = box
    part = np.ascontiguousarray(drawn[top:bottom, left:right])
    sums = cv2.reduce(part, 1 - axis, cv2.REDUCE_SUM, dtype=cv2.CV_32S).reshape(-1, 2)
    shares, hidden = sums.T / part.shape[1 - axis]
    return np.where(hidden <= MOST_HIDDEN, shares / np.maximum(1 - hidden, 0.1), 1.0)


def _without_bare_ends(drawn: np.ndarray, box: Box, most_bare: float) -> Box:
    """A box without the bare rows and columns at its edges, but for those that are no more than this share of its side."""
    ends = []
    for axis in (1, 0):
        start, end = (box[1], box[3]) if axis == 0 else (box[0], box[2])
        found = np.flatnonzero(_drawn_shares(drawn, box, axis) > MOST_DRAWN[0])
        first, last = (start + int(found[0]), start + int(found[-1]) + 1) if len(found) else (start, end)
        ends.append((first if first - start > most_bare * (end - start) else start,
                     last if end - last > most_bare * (end - start) else end))
    (left, right), (top, bottom) = ends
    return left, top, right, bottom


def _is_panel(cell: Box, scale: PieceScale) -> bool:
    return min(cell[2] - cell[0], cell[3] - cell[1]) >= LEAST_SIDE * scale.longer_px
