"""Panels that stand within another, parted from it by a ring of ground."""

import cv2
import numpy as np

from board.vision.gutter_strip import WIDEST
from board.vision.page_ground import PageGround
from board.vision.panel_outline import PanelOutline, outline_of
from board.vision.panel_pieces import Piece, PieceScale

LEAST_RING = 0.8  # of an inset's outline that has the ring beside it
LEAST_INSET_FRAMED = 0.7  # stricter than for a panel: windows and pictures stand in panels too
MOST_PAPER = 0.5  # of the page within panels: in line art a ring may be any frame that is drawn as a double line


def find_insets(page: PageGround, scale: PieceScale) -> list[PanelOutline]:
    """Insets that lie wholly within one panel: the holes of rings of paper, in a page with tones."""
    drawn = ~page.ground
    if page.paper[drawn].mean() > MOST_PAPER if drawn.any() else True:
        return []
    enclosed = (page.paper & drawn).astype(np.uint8)
    contours, tree = cv2.findContours(enclosed, cv2.RETR_CCOMP, cv2.CHAIN_APPROX_NONE)
    insets = []
    for k, contour in enumerate(contours):
        if tree[0][k][3] < 0:  # the outside of a part; its holes name it as their parent
            continue
        left, top, width, height = cv2.boundingRect(contour)
        if min(width, height) < scale.least_side_px or width * height < scale.least_area_px:
            continue
        mask = np.zeros((height, width), np.uint8)
        cv2.drawContours(mask, [contour - (left, top)], -1, 1, -1)
        # A hole's contour runs on the paper around it.
        outline = outline_of(Piece(cv2.erode(mask, np.ones((3, 3), np.uint8), borderValue=0).astype(bool), left, top), scale)
        if outline.framed_share >= LEAST_INSET_FRAMED and has_ring(outline.polygon, page, scale):
            insets.append(outline)
    return insets


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
