"""Panels without frames on a page whose panels stand in tiers: each fills its cell between the bare lanes of the page."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache, partial

import cv2
import numpy as np

from board.vision.convex_polygons import clip_by_line, polygon_area, shared_area
from board.vision.open_panels import corners
from board.vision.page_ground import PageGround
from board.vision.page_piece import PieceScale
from board.vision.ruled_strokes import RuledStroke, measure_stroke
from board.vision.shared_borders import runs_of

# From trials on drawn layouts and pages, no source.
NARROWEST, WIDEST = 0.006, 0.03  # of the longer side of the page
# Of a row of a lane, what sticks out of panels: as the page is drawn, tight or loose.
MOST_DRAWN = 0.01, 0.015, 0.02, 0.025, 0.03, 0.035
MOST_DRAWN_ALONE = (0.005,)  # where no frame stands beside: the drawing of a whole page has lanes with a few strokes across them
LEAST_SIDE = 0.08  # of the longer side, of a cell
SAME_WIDTH = 0.5  # so far may a lane be wider or narrower than the page's lanes mostly are
SAME_PANEL = 0.8  # of both together that a panel and a cell share
MOST_HIDDEN = 0.4  # of a row of a lane, by balloons
SEARCH, BESIDE = 0.005, 0.008  # of the longer side: so far a border may stray, and there it has ended
LEAST_BORDER = 0.85  # of a lane's way that the border beside it covers
MOST_WAVY, LEAST_WIDTH = 1.8, 0.75  # times the page's pen
MOST_PALER = 60  # grey values against it: what a drawing is constructed on is pale
LONGEST_END = 0.02  # of the longer side: a stroke runs on no further past the corner of a panel
MOST_BARE = 0.3  # of a side of a cell, at either end: more is not the panel's
LEAST_UPRIGHT = 0.95  # of its own box that an upright frame fills
LEAST_SHAPE = 0.4  # of a cell that a shape in its drawing takes up, for the rest to be no panel's
LEAST_CONCERNED = 0.25  # of a cell that an open panel overlaps

Box = tuple[int, int, int, int]  # left, top, right, bottom
Lane = tuple[int, int]  # from, to
LanesOf = Callable[[Box, int], list[Lane]]  # of a box, along its rows (0) or columns (1)


@dataclass(frozen=True)
class _Cells:
    """Boxes (4, 2), and whether the lanes between them have borders beside them."""

    boxes: list[np.ndarray]
    are_bordered: bool

    def rank(self, frames: list[np.ndarray]) -> tuple[bool, int, int]:
        """The likeliest is greatest: of lanes beside borders there are never too many, of bare ones the fewest are likeliest."""
        same = sum(_is_same(frame, cell) for frame in frames for cell in self.boxes)
        return self.are_bordered, same, len(self.boxes) * (1 if self.are_bordered else -1)


def settle_open(
    polygons: list[np.ndarray], framed: list[bool], page: PageGround, scale: PieceScale
) -> tuple[list[np.ndarray], list[bool]]:
    """The panels again: in a cell of the page's lanes that open panels were found in, but not as the cell, the cell itself.

    polygons: (K, 2) in px of the page's masks; framed: which of them have a frame.
    """
    if all(framed):
        return polygons, framed
    found_open = [polygon for polygon, has_frame in zip(polygons, framed, strict=True) if not has_frame]
    real = [k for k, one in enumerate(polygons) if not framed[k] or is_upright(one) or not lies_within(one, found_open)]
    polygons, framed = [polygons[k] for k in real], [framed[k] for k in real]
    frames = [polygon for polygon, has_frame in zip(polygons, framed, strict=True) if has_frame and _is_frame(polygon, found_open)]
    drawn = np.dstack([~page.paper & ~page.balloons, page.balloons]).astype(np.uint8)
    has_border = cache(partial(_has_border, page, drawn, scale))
    shares = MOST_DRAWN if any(framed) else MOST_DRAWN_ALONE
    tries = [_cells(drawn, share, has_border, scale) for share in shares]
    tries = [one for one in tries if len(one.boxes) > 1 and all(_lies_in(frame, one.boxes) for frame in frames)]
    if not tries:
        return polygons, framed
    best = max(tries, key=lambda one: one.rank(frames))
    every = [polygon for polygon, has_frame in zip(polygons, framed, strict=True) if has_frame]
    open_cells = [cell for cell in best.boxes
                  if _is_open(cell, frames, found_open) or (best.are_bordered and _holds_shape(cell, every, found_open))]
    kept = [k for k, polygon in enumerate(polygons) if not any(_concerns(polygon, cell) for cell in open_cells)]
    as_found = [next((_clipped(one, cell, scale) for one in found_open if _is_same(one, cell)), cell) for cell in open_cells]
    return [polygons[k] for k in kept] + as_found, [framed[k] for k in kept] + [False] * len(as_found)


def _clipped(polygon: np.ndarray, cell: np.ndarray, scale: PieceScale) -> np.ndarray:
    """An open panel without what reaches a little out of its cell: strokes that run on past a corner lie in the lanes."""
    for axis, way in ((0, 1.0), (0, -1.0), (1, 1.0), (1, -1.0)):
        limit = float((way * cell[:, axis]).max())
        if limit < (way * polygon[:, axis]).max() <= limit + LONGEST_END * scale.longer_px:
            polygon = clip_by_line(polygon, way * np.eye(2)[axis], limit)
    return polygon


def _is_frame(polygon: np.ndarray, found_open: list[np.ndarray]) -> bool:
    """Whether it is an upright frame, and no shape in the drawing of an open panel."""
    area = polygon_area(polygon)
    return is_upright(polygon) and all(shared_area(polygon, one) < SAME_PANEL * area for one in found_open)


def is_upright(polygon: np.ndarray) -> bool:
    return polygon_area(polygon) >= LEAST_UPRIGHT * float(np.prod(np.ptp(polygon, axis=0)))


def lies_within(polygon: np.ndarray, found_open: list[np.ndarray]) -> bool:
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


def _holds_shape(cell: np.ndarray, frames: list[np.ndarray], found_open: list[np.ndarray]) -> bool:
    """Whether the only frame in a cell, slanted ones too, does not fill it: upright, it is a shape in an open panel's drawing."""
    within = [frame for frame in frames if shared_area(frame, cell) >= 0.5 * polygon_area(frame)]
    area = polygon_area(cell)
    return (
        len(within) == 1
        and _is_frame(within[0], found_open)
        and not _is_same(within[0], cell)
        and polygon_area(within[0]) >= LEAST_SHAPE * area
        and all(shared_area(one, cell) < LEAST_CONCERNED * area for one in found_open)
    )


def _is_same(polygon: np.ndarray, cell: np.ndarray) -> bool:
    shared = shared_area(polygon, cell)
    return shared >= SAME_PANEL * (polygon_area(polygon) + polygon_area(cell) - shared)


def _concerns(polygon: np.ndarray, cell: np.ndarray) -> bool:
    """Whether much of the smaller of the two lies in the other."""
    return shared_area(polygon, cell) >= 0.5 * min(polygon_area(polygon), polygon_area(cell))


def _cells(drawn: np.ndarray, most_drawn: float, has_border: Callable[[Box, int, Lane], bool], scale: PieceScale) -> _Cells:
    """The cells between lanes of which at most `most_drawn` is drawn on: those beside borders; if there are none, bare ones."""
    whole = _without_bare_ends(drawn, (0, 0, drawn.shape[1], drawn.shape[0]), 0.0)
    lanes_of = cache(partial(_lanes, drawn, most_drawn, scale))

    def bordered(box: Box, axis: int) -> list[Lane]:  # a bare wall in an open panel has no border beside it
        return [lane for lane in lanes_of(box, axis) if has_border(box, axis, lane)]

    boxes = _boxes(drawn, whole, bordered, scale)
    return _Cells(boxes, True) if boxes else _Cells(_boxes(drawn, whole, lanes_of, scale), False)


def _boxes(drawn: np.ndarray, whole: Box, lanes_of: LanesOf, scale: PieceScale) -> list[np.ndarray]:
    """Boxes (4, 2) between lanes of about one width, tiers first; [] where there are none, or one is too small for a panel.

    drawn: uint8 (H, W, 2), 1 where a stroke is seen, and where a balloon lies over the page.
    """
    widths = [width for _, lanes, _ in _parts(whole, lambda box, axis: _apart(lanes_of(box, axis), scale.longer_px, scale))
              for width in lanes]
    if not widths:
        return []
    usual = float(np.median(widths))
    parts = _parts(whole, lambda box, axis: _apart(
        [(a, b) for a, b in lanes_of(box, axis) if abs(b - a - usual) <= SAME_WIDTH * usual], usual, scale))
    # What else stands in a tier tells how high it is.
    cells = [_without_bare_ends(drawn, cell, MOST_BARE, (1,) if in_tier else (1, 0)) for cell, _, in_tier in parts]
    return [corners(np.array(cell, float)) for cell in cells] if all(_is_panel(cell, scale) for cell in cells) else []


def _apart(lanes: list[Lane], usual_px: float, scale: PieceScale) -> list[Lane]:
    """Of lanes nearer to one another than a panel is wide the one most as usual: beside a border both sides may be bare."""
    kept: list[Lane] = []
    for lane in sorted(lanes, key=lambda lane: abs(lane[1] - lane[0] - usual_px)):
        if all(max(lane[0] - other[1], other[0] - lane[1]) >= scale.least_side_px for other in kept):
            kept.append(lane)
    return sorted(kept)


def _parts(
    box: Box, lanes_of: LanesOf, axes: tuple[int, ...] = (0, 1)
) -> Iterator[tuple[Box, list[int], bool]]:
    """The cells of a box, each with the widths of the lanes that part it from others, and whether others stand in its tier."""
    for axis in axes:
        lanes = lanes_of(box, axis)
        if lanes:
            left, top, right, bottom = box
            cuts = [top if axis == 0 else left, *(edge for lane in lanes for edge in lane), bottom if axis == 0 else right]
            for a, b in zip(cuts[::2], cuts[1::2], strict=True):
                part = (left, a, right, b) if axis == 0 else (a, top, b, bottom)
                for cell, widths, in_tier in _parts(part, lanes_of, (1 - axis,)):
                    yield cell, widths + [b - a for a, b in lanes], in_tier
            return
    yield box, [], axes == (0,)


def _lanes(drawn: np.ndarray, most_drawn: float, scale: PieceScale, box: Box, axis: int) -> list[Lane]:
    """Runs of rows (axis 0) or columns (axis 1) within a box on which next to nothing is drawn, from and to."""
    left, top, right, bottom = box
    share = _drawn_shares(drawn, box, axis)
    start, end = (top, bottom) if axis == 0 else (left, right)
    lanes = [(start + a, start + b) for a, b in runs_of(share <= most_drawn) if NARROWEST <= (b - a) / scale.longer_px <= WIDEST]
    return [(a, b) for a, b in lanes if min(a - start, end - b) >= scale.least_side_px]


def _has_border(page: PageGround, drawn: np.ndarray, scale: PieceScale, box: Box, axis: int, lane: Lane) -> bool:
    """Whether a stroke like the page's pen runs along a lane on one side of it."""
    pen = page.pen
    if pen is None:
        return False
    start, end = (box[0], box[2]) if axis == 0 else (box[1], box[3])
    search_px, beside_px = round(SEARCH * scale.longer_px), round(BESIDE * scale.longer_px)
    for edge, way in ((lane[0], -1), (lane[1], 1)):
        rows = slice(max(0, min(edge, edge + way * beside_px)), max(edge, edge + way * beside_px))
        near = drawn[rows, start:end] if axis == 0 else drawn[start:end, rows]
        if near.any(axis=(axis, 2)).mean() < LEAST_BORDER:
            continue
        at = edge + way * (pen.width_px / 2 + 1)
        ends = np.array([[start, at], [end, at]] if axis == 0 else [[at, start], [at, end]])
        stroke = measure_stroke(page.gray, ends, search_px, beside_px, page.balloons, LEAST_BORDER)
        if stroke.share >= LEAST_BORDER and _is_like(stroke, pen):
            return True
    return False


def _is_like(stroke: RuledStroke, pen: RuledStroke) -> bool:
    is_as_straight = stroke.wobble_px <= MOST_WAVY * pen.wobble_px
    return is_as_straight and stroke.width_px >= LEAST_WIDTH * pen.width_px and stroke.value <= pen.value + MOST_PALER


def _drawn_shares(drawn: np.ndarray, box: Box, axis: int) -> np.ndarray:
    """Of each row (axis 0) or column (axis 1) of a box, the share of what is seen that is drawn on; 1 where too little is seen."""
    left, top, right, bottom = box
    part = np.ascontiguousarray(drawn[top:bottom, left:right])
    sums = cv2.reduce(part, 1 - axis, cv2.REDUCE_SUM, dtype=cv2.CV_32S).reshape(-1, 2)
    shares, hidden = sums.T / part.shape[1 - axis]
    return np.where(hidden <= MOST_HIDDEN, shares / np.maximum(1 - hidden, 0.1), 1.0)


def _without_bare_ends(drawn: np.ndarray, box: Box, most_bare: float, axes: tuple[int, ...] = (1, 0)) -> Box:
    """A box without the bare rows (axis 0) and columns (axis 1) at its edges, but for those that are no more than this share of its
    side."""
    ends = [list(box[:2]), list(box[2:])]  # of columns, rows
    for axis in axes:
        start, end = box[1 - axis], box[3 - axis]
        found = np.flatnonzero(_drawn_shares(drawn, box, axis) > MOST_DRAWN[0])
        first, last = (start + int(found[0]), start + int(found[-1]) + 1) if len(found) else (start, end)
        ends[0][1 - axis] = first if first - start > most_bare * (end - start) else start
        ends[1][1 - axis] = last if end - last > most_bare * (end - start) else end
    return ends[0][0], ends[0][1], ends[1][0], ends[1][1]


def _is_panel(cell: Box, scale: PieceScale) -> bool:
    return min(cell[2] - cell[0], cell[3] - cell[1]) >= LEAST_SIDE * scale.longer_px
