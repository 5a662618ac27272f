"""Finds the panels of a page and the order in which they are read."""

from dataclasses import dataclass, replace

import numpy as np

from board.vision.bled_bands import fill_bands
from board.vision.bleeding_panels import bled_off
from board.vision.captions import is_caption
from board.vision.convex_polygons import polygon_area, shared_area
from board.vision.drawn_borders import has_drawn_border
from board.vision.even_light import rim_of
from board.vision.ground_value import MOST_TOLERANCE, least_side_share
from board.vision.inset_panels import find_insets, has_ring
from board.vision.made_smaller import made_smaller
from board.vision.open_panels import find_open_panels, without_lettering
from board.vision.open_slots import fill_tier
from board.vision.page_ground import PageGround, find_ground
from board.vision.page_lanes import settle_open
from board.vision.page_piece import PieceScale, page_side_px
from board.vision.panel_outline import PanelOutline, with_corners
from board.vision.panel_pieces import find_pieces
from board.vision.paper_rules import without_rules
from board.vision.piece_outlines import outlines_of
from board.vision.reading_order import order_panels
from board.vision.ruled_insets import find_ruled_insets, is_bordered_like_host
from board.vision.shapes_in_open import without_shapes
from board.vision.shared_borders import part_at_borders

WORK_SIDE_PX = 1400
LEAST_FRAME = 0.01  # of the picture: a smaller frame is a caption's or a balloon's
LEAST_SHEET = 0.5  # of the picture that a sheet of paper on a scanner's bed fills
PAST_BORDER = 0.004  # of the longer side: further from a sheet than a border is wide
LEAST_PAPER_EDGE = 0.7  # of each of its edges that is bare paper


@dataclass(frozen=True)
class PanelLayout:
    """Panels as polygons (K, 2) in continuous pixels of the picture that was given, in reading order."""

    panels: tuple[np.ndarray, ...]
    framed: tuple[bool, ...]
    order_doubtful: bool

    def __bool__(self) -> bool:
        return bool(self.panels)


def find_panels(gray: np.ndarray, *, reading: str = "ltr") -> PanelLayout:
    """Panels of a page, drawn or scanned, framed or open; empty where nothing is drawn.

    gray: uint8 (H, W). reading: "ltr" or "rtl". Raises ValueError for another shape, type or reading.
    """
    if gray.ndim != 2 or gray.dtype != np.uint8 or gray.size == 0:
        raise ValueError("gray is a uint8 picture of shape (H, W)")
    small = without_rules(made_smaller(gray, _work_side_px(gray.shape)))
    scale = PieceScale.of(small.shape)
    polygons, framed = _find(small, scale)
    order = order_panels(polygons, reading)
    up = np.array([gray.shape[1] / small.shape[1], gray.shape[0] / small.shape[0]])
    limit = np.array([gray.shape[1], gray.shape[0]], float)
    panels = tuple(np.clip(polygons[k] * up, 0, limit) for k in order.indices)
    # How far open panels reach is a guess, and so is which of them stands before which.
    return PanelLayout(panels, tuple(framed[k] for k in order.indices), order.doubtful and any(framed))


def _work_side_px(shape: tuple[int, ...]) -> int:
    """The longer side that a picture (H, W) is looked at in: of a strip as much more as a square page would take time."""
    oblong = max(shape) / page_side_px(shape)
    return round(min(WORK_SIDE_PX * oblong, WORK_SIDE_PX * np.sqrt(max(shape) / min(shape))))


def _find(small: np.ndarray, scale: PieceScale) -> tuple[list[np.ndarray], list[bool]]:
    polygons, framed = _find_on_ground(small, scale)
    if framed == [True] and polygon_area(polygons[0]) >= LEAST_SHEET * small.size:
        return _find_on_sheet(small, polygons[0], scale) or (polygons, framed)
    return polygons, framed


def _find_on_sheet(small: np.ndarray, sheet: np.ndarray, scale: PieceScale) -> tuple[list[np.ndarray], list[bool]] | None:
    """Looks again where the one "panel" is a sheet of paper on the dark bed of a scanner; None where it is a panel after all."""
    inset = 0.015 * scale.longer_px
    left, top = np.ceil(sheet.min(axis=0) + inset).astype(int)
    right, bottom = np.floor(sheet.max(axis=0) - inset).astype(int)
    paper = np.ascontiguousarray(small[top:bottom, left:right])
    if paper.size == 0:
        return None
    value = int(np.median(rim_of(paper)))
    # A frame stands on paper of the same value as what is bare within it; around a page that was laid flat hardly anything is left.
    around = _around(small, sheet, PAST_BORDER * scale.longer_px)
    is_on_bed = not around.size or np.median(around) < value - MOST_TOLERANCE
    if not is_on_bed or least_side_share(paper, value) < LEAST_PAPER_EDGE:
        return None
    polygons, framed = _find_on_ground(paper, scale)
    return ([polygon + (left, top) for polygon in polygons], framed) if framed.count(True) > 1 else None


def _around(small: np.ndarray, sheet: np.ndarray, apart_px: float) -> np.ndarray:
    """The values (N,) outside the box of a sheet, further from it than a border is wide."""
    left, top = np.maximum(np.floor(sheet.min(axis=0) - apart_px), 0).astype(int)
    right, bottom = np.ceil(sheet.max(axis=0) + apart_px).astype(int)
    strips = small[:top], small[bottom:], small[top:bottom, :left], small[top:bottom, right:]
    return np.concatenate([strip.ravel() for strip in strips])


def _find_on_ground(small: np.ndarray, scale: PieceScale) -> tuple[list[np.ndarray], list[bool]]:
    page = find_ground(small)
    content = ~page.ground
    pieces, cuts, pen = find_pieces(page, scale)
    page = replace(page, pen=pen)
    outlines = outlines_of(pieces, cuts, page, scale)
    large = [outline for outline in outlines if outline.framed and polygon_area(outline.polygon) >= LEAST_FRAME * scale.area_px]
    outlines = _free_standing(large, page, scale)
    bare = [outline.polygon for outline in outlines]
    frames = [with_corners(outline, bare[:k] + bare[k + 1 :], scale) for k, outline in enumerate(outlines)]
    frames = [bled_off(frame, frames[:k] + frames[k + 1 :], content, scale) for k, frame in enumerate(frames)]
    frames = fill_bands(frames, page, scale)
    frames = [part for frame in frames for part in part_at_borders(small, frame, scale, page.balloons)]
    insets = find_insets(page, scale, lambda inset: is_bordered_like_host(small, inset, frames, pen, scale))
    within = [inset.polygon for inset in insets] or find_ruled_insets(small, frames, scale, page.balloons)
    frames = frames + [inset for inset in within if not is_caption(small, inset, scale)]
    open_boxes = find_open_panels(content, frames, scale)
    if open_boxes and pen:
        frames = [frame for frame in frames if has_drawn_border(frame, page, pen, scale)]
        frames = without_shapes(frames, content, scale)
        open_boxes = find_open_panels(content, frames, scale)
    open_boxes = [fill_tier(box, frames, scale) for box in without_lettering(open_boxes, page.balloons)]
    return settle_open(frames + open_boxes, [True] * len(frames) + [False] * len(open_boxes), page, scale)


def _free_standing(outlines: list[PanelOutline], page: PageGround, scale: PieceScale) -> list[PanelOutline]:
    """Frames but for those within another: what stands in a frame with a broken border is a part of its drawing, unless ringed."""
    kept: list[PanelOutline] = []
    for outline in sorted(outlines, key=lambda outline: -polygon_area(outline.polygon)):
        area = polygon_area(outline.polygon)
        within = any(shared_area(outline.polygon, other.polygon) >= 0.7 * area for other in kept)
        if not within or has_ring(outline.polygon, page, scale):
            kept.append(outline)
    return kept
