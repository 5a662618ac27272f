"""Panels that bleed off both sides of the page, though little of them is framed: what lies behind a border from edge to edge."""

from collections.abc import Iterator

import cv2
import numpy as np

from board.vision.connected_parts import connected_parts
from board.vision.convex_polygons import polygon_area, shared_area
from board.vision.frame_lines import FrameLine, find_frame_lines
from board.vision.frame_polygon import outer_offset
from board.vision.page_ground import PageGround
from board.vision.page_piece import PieceScale
from board.vision.shared_borders import runs_of

# From trials on drawn layouts, no source.
AT_EDGE = 0.01  # of the longer side of the page
MOST_TILT = 0.03  # of a border against the page's own axes
LEAST_COVERED = 0.7  # of its way that runs straight
MOST_BROKEN = 0.005  # of the longer side: what is broken by more than the hand leaves is the borders of several panels
LEAST_DEPTH = 0.1  # of the longer side
LEAST_DRAWN = 0.6  # of that depth, from its border inwards
LEAST_WITHIN = 0.6  # of a polygon that lies in a band
MOST_FREE = 0.15  # of a band, in which shapes clear of the edges are
WIDEST = 0.012  # of the longer side, of a gutter that runs through a band: a wider one breaks its borders for all to see


def fill_bands(polygons: list[np.ndarray], page: PageGround, scale: PieceScale) -> list[np.ndarray]:
    """The polygons (K, 2), px, and instead of those that are parts of a panel from edge to edge of the picture that panel."""
    # The largest last: floors and beams within a panel run from edge to edge too.
    for band in sorted(_bands(page, scale), key=polygon_area):
        within = [k for k, one in enumerate(polygons) if shared_area(one, band) >= LEAST_WITHIN * polygon_area(one)]
        # Windows and doors stand free where its walls are bare; insets are looked for later on, and panels of tiers are more.
        free = [polygons[k] for k in within if not _is_at_edge(polygons[k], page.ground.shape, scale)]
        if sum(map(polygon_area, free)) <= MOST_FREE * polygon_area(band) and not _is_parted(band, page, scale):
            polygons = [one for k, one in enumerate(polygons) if k not in within] + [band]
    return polygons


def _is_at_edge(polygon: np.ndarray, shape: tuple[int, ...], scale: PieceScale) -> bool:
    near = AT_EDGE * scale.longer_px
    return bool((polygon <= near).any() or (polygon >= np.array(shape[::-1]) - near).any())


def _bands(page: PageGround, scale: PieceScale) -> Iterator[np.ndarray]:
    """The parts (4, 2) of the picture between two borders from edge to edge with their backs to each other, or one and the edge."""
    content = ~page.ground
    for axis in (1, 0):  # across the borders: 1 where they run level
        across = content if axis == 1 else content.T
        if not (across[:, :3].any() and across[:, -3:].any()):
            continue
        borders = _borders(content, axis, scale)
        for facing, ends in borders:
            # Nearer lie the border's own other side and, where the white of a panel leads to the edge, floors and beams.
            deep = LEAST_DEPTH * scale.longer_px
            behind = [other for way, other in borders if way == -facing and (ends - other).mean() * facing >= deep]
            edge = np.full(2, 0.0 if facing > 0 else float(across.shape[0]))
            far = min(behind, key=lambda other: abs(float((other - ends).mean())), default=edge)
            band = np.empty((4, 2))
            band[:, 1 - axis] = np.array([0, across.shape[1], across.shape[1], 0])
            band[:, axis] = *ends, *far[::-1]
            if _is_drawn(across, ends, far, scale):
                yield band


def _is_parted(band: np.ndarray, page: PageGround, scale: PieceScale) -> bool:
    """Whether a gutter, however narrow, runs from the one border of a band (4, 2) to its other: it is panels beside each other."""
    axis = int(np.abs(band[1] - band[0]).argmin())  # across the borders
    ground, (left, right) = (page.ground, band[:2, 0]) if axis == 1 else (page.ground.T, band[:2, 1])
    start = max(0, int(band[:, axis].min()))
    rows, columns = np.ogrid[start : min(len(ground), int(np.ceil(band[:, axis].max()))), : ground.shape[1]]
    share = (columns + 0.5 - left) / (right - left)
    near, far = (ends[0] + (ends[1] - ends[0]) * share for ends in (band[:2, axis], band[:1:-1, axis]))
    low, high = np.minimum(near, far), np.maximum(near, far)
    labels, stats = connected_parts(ground[start : start + len(rows)] & (rows >= low) & (rows < high), 8)
    edge = scale.line_tolerance_px
    at_low, at_high = (np.bincount(labels[at], minlength=len(stats)) > 0 for at in (rows < low + edge, rows >= high - edge))
    through = at_low & at_high & (stats[:, cv2.CC_STAT_AREA] <= WIDEST * scale.longer_px * np.hypot(*stats[:, 2:4].T))
    return bool(through[1:].any())


def _borders(content: np.ndarray, axis: int, scale: PieceScale) -> list[tuple[int, np.ndarray]]:
    """Of each border from edge to edge which way it faces (1: on to larger coordinates), and where it meets both edges."""
    size = content.shape[axis]
    near = AT_EDGE * scale.longer_px
    borders = []
    for line in find_frame_lines(content, scale.line_tolerance_px, LEAST_COVERED * size):
        low, high = sorted(end * line.along[1 - axis] + line.offset * line.normal[1 - axis] for end in line.span)
        is_across = low <= near and high >= size - near and abs(line.normal[1 - axis]) <= MOST_TILT
        if is_across and _is_whole(line, content, axis, scale):
            ends = (outer_offset(line) - np.array([0.0, size]) * line.normal[1 - axis]) / line.normal[axis]
            borders.append((int(np.sign(line.normal[axis])), ends))
    return borders


def _is_whole(line: FrameLine, content: np.ndarray, axis: int, scale: PieceScale) -> bool:
    """Whether the drawing just behind a line has no gap that would be a gutter's."""
    at = np.arange(content.shape[axis])
    place = (line.offset - at * line.normal[1 - axis]) / line.normal[axis] - 2 * np.sign(line.normal[axis])
    near = np.clip(np.round(place + np.arange(-2, 3)[:, None]).astype(int), 0, content.shape[1 - axis] - 1)
    there = (content[near, at] if axis == 1 else content[at, near]).any(axis=0)
    return all(b - a <= MOST_BROKEN * scale.longer_px for a, b in runs_of(~there))


def _is_drawn(across: np.ndarray, ends: np.ndarray, far: np.ndarray, scale: PieceScale) -> bool:
    """Whether a band is as deep as a panel and drawn on most of its depth, from its border inwards."""
    low, high = sorted((float(ends.mean()), float(far.mean())))
    rows = np.flatnonzero(across[max(0, round(low)) : max(0, round(high))].any(axis=1))
    return high - low >= LEAST_DEPTH * scale.longer_px and len(rows) > 0 and rows[-1] - rows[0] >= LEAST_DRAWN * (high - low)
