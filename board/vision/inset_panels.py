"""Panels that stand within another, parted from it by a ring of ground."""

from collections.abc import Callable, Iterator

import cv2
import numpy as np

from board.vision.connected_parts import connected_parts
from board.vision.gutter_strip import WIDEST
from board.vision.page_ground import PageGround
from board.vision.page_piece import Piece, PieceScale
from board.vision.panel_outline import PanelOutline, outline_of

LEAST_RING = 0.8  # of an inset's outline that has the ring beside it
LEAST_INSET_FRAMED = 0.7  # stricter than for a panel: windows and pictures stand in panels too
LEAST_INSET = 0.01  # of the picture: smaller is a window or a picture on a wall. From trials, no source
LEAST_CUT = 0.2  # of the outline where a line or tone of the host ends at the ring
NARROWEST_RING = 0.003  # of the longer side
MOST_PAPER = 0.5  # of the page within panels: in line art a ring may be any frame that is drawn as a double line


def find_insets(page: PageGround, scale: PieceScale, is_bordered: Callable[[np.ndarray], bool]) -> list[PanelOutline]:
    """Insets that lie wholly within one panel: in tones holes in rings of paper, in line art frames kept clear.

    is_bordered: whether a frame (K, 2) has a border like its host's; windows are kept clear too.
    """
    drawn = ~page.ground
    if not drawn.any():
        return []
    if page.paper[drawn].mean() <= MOST_PAPER:
        found = [_outline(mask, left, top, scale) for mask, left, top in _holes((page.paper & drawn).astype(np.uint8), scale)]
        return [outline for outline in found if outline and has_ring(outline.polygon, page, scale)]
    found = [_outline(mask, left, top, scale) for mask, left, top in _loose_frames(page, scale)]
    clear = [outline for outline in found if outline and _is_kept_clear(outline.polygon, page, scale)]
    return [outline for outline in clear if is_bordered(outline.polygon)]


def _outline(mask: np.ndarray, left: int, top: int, scale: PieceScale) -> PanelOutline | None:
    outline = outline_of(Piece(mask.astype(bool), left, top), scale)
    return outline if outline.framed_share >= LEAST_INSET_FRAMED else None


def _is_large(width: int, height: int, scale: PieceScale) -> bool:
    return min(width, height) >= scale.least_side_px and width * height >= LEAST_INSET * scale.area_px


def _holes(mask: np.ndarray, scale: PieceScale) -> Iterator[tuple[np.ndarray, int, int]]:
    """Large holes in the parts of `mask`, each in its own box."""
    contours, tree = cv2.findContours(mask, cv2.RETR_CCOMP, cv2.CHAIN_APPROX_NONE)
    for k, contour in enumerate(contours):
        left, top, width, height = cv2.boundingRect(contour)
        if tree[0][k][3] < 0 or not _is_large(width, height, scale):  # holes name the part they are in as their parent
            continue
        hole = np.zeros((height, width), np.uint8)
        cv2.drawContours(hole, [contour - (left, top)], -1, 1, -1)
        # A hole's contour runs on the paper around it.
        yield cv2.erode(hole, np.ones((3, 3), np.uint8), borderValue=0), left, top


def _loose_frames(page: PageGround, scale: PieceScale) -> Iterator[tuple[np.ndarray, int, int]]:
    """Large parts of the ink that hang together with no panel's border, filled, each in its own box."""
    beside_ground = cv2.dilate(page.ground.astype(np.uint8), np.ones((3, 3), np.uint8)) > 0
    labels, stats = connected_parts(~page.paper, 8)
    is_border = np.zeros(len(stats), bool)
    is_border[labels[beside_ground]] = True
    for k, (left, top, width, height, _) in enumerate(stats[1:].tolist(), 1):
        if _is_large(width, height, scale) and not is_border[k]:
            yield labels[top : top + height, left : left + width] == k, left, top


def _is_kept_clear(polygon: np.ndarray, page: PageGround, scale: PieceScale) -> bool:
    """Whether the drawing around a frame ends at one distance from it, as where it was cut out to set the frame in.

    Around a window or a picture on a wall the lines end as they come.
    """
    widths = _widths_around(polygon, page.paper, round(2 * WIDEST * scale.longer_px))
    ends = widths[widths > 0]
    if len(ends) < LEAST_CUT * len(widths):
        return False
    ring = float(np.percentile(ends, 10))
    cut = np.abs(ends - ring) <= scale.line_tolerance_px
    return bool(ring >= NARROWEST_RING * scale.longer_px and cut.sum() >= LEAST_CUT * len(widths))


def has_ring(polygon: np.ndarray, page: PageGround, scale: PieceScale) -> bool:
    """Whether paper of an even width, no wider than a gutter, runs round the polygon with drawing beyond it."""
    widths = _widths_around(polygon, page.paper, round(WIDEST * scale.longer_px))
    ring = widths[widths > 0]
    if len(ring) < LEAST_RING * len(widths):
        return False
    even = np.abs(ring - np.median(ring)) <= 2 * scale.line_tolerance_px
    return bool(even.sum() >= LEAST_RING * len(widths))


def _widths_around(polygon: np.ndarray, paper: np.ndarray, reach: int) -> np.ndarray:
    """Width in px of the paper outside of each point of the outline; 0 where there is none or it is wider than `reach`."""
    widths = []
    middle = polygon.mean(axis=0)
    for a, b in zip(polygon, np.roll(polygon, -1, axis=0), strict=True):
        run = b - a
        length = float(np.hypot(*run))
        if length < 4:
            continue
        normal = np.array([run[1], -run[0]]) / length
        normal = normal if normal @ (a - middle) > 0 else -normal
        starts = a + np.arange(2, length - 2, 2)[:, None] * (run / length)
        ways = starts[:, None] + np.arange(1, reach + 6)[None, :, None] * normal
        x = np.clip(ways[..., 0].astype(int), 0, paper.shape[1] - 1)
        y = np.clip(ways[..., 1].astype(int), 0, paper.shape[0] - 1)
        widths.append(_first_runs(paper[y, x]))
    found = np.concatenate(widths) if widths else np.zeros(0)
    return np.where(found > reach, 0, found)


def _first_runs(rows: np.ndarray) -> np.ndarray:
    """Length of the first run of paper in each row that begins within 4 px; 0 where none does, or where it has no end."""
    columns = np.arange(rows.shape[1])
    start = np.where(rows, columns, rows.shape[1]).min(axis=1)
    stop = np.where(~rows & (columns > start[:, None]), columns, rows.shape[1] + 1).min(axis=1)
    return np.where((start <= 4) & (stop < rows.shape[1] + 1), stop - start, 0)
