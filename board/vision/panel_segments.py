"""The segments of one panel: inside its border, clear of the border itself and of lettering."""

import cv2
import numpy as np

from board.vision.line_segments import DrawnLines

BORDER_SHARE = 0.012  # of the panel's diagonal: nothing so near the border is a line of the picture
SHORTEST_SHARE = 0.02  # of the panel's diagonal: texture is shorter
CUT_STEPS = 33
MASK_PX = 600
MOST_LETTERED = 0.35  # of a segment's length


def lines_of_panel(lines: DrawnLines, polygon: np.ndarray, lettered: np.ndarray, page_size: tuple[int, int]) -> DrawnLines:
    """What of a page's lines, px of the page, is drawn in the panel `polygon` (K, 2), longest first.

    `lettered` bool (h, w) marks balloons and captions of the page of `page_size` (width, height), at any scale.
    """
    diagonal = float(np.hypot(*(polygon.max(0) - polygon.min(0))))
    own = lines_within(lines, polygon, BORDER_SHARE * diagonal, SHORTEST_SHARE * diagonal)
    order = np.argsort(-np.hypot(*(own.segments[:, 2:] - own.segments[:, :2]).T), kind="stable")
    order = order[~_are_lettering(own.segments, lettered, page_size)[order]]
    return DrawnLines(own.segments[order], own.spread_px[order])


def _are_lettering(segments: np.ndarray, lettered: np.ndarray, page_size: tuple[int, int]) -> np.ndarray:
    height, width = lettered.shape
    samples = _samples(segments).reshape(-1, 2) * [width / page_size[0], height / page_size[1]]
    x, y = np.clip(samples.astype(int), 0, [width - 1, height - 1]).T
    return lettered[y, x].reshape(len(segments), CUT_STEPS).mean(1) > MOST_LETTERED


def _samples(segments: np.ndarray) -> np.ndarray:
    """(N, CUT_STEPS, 2) points along each segment."""
    return segments[:, None, :2] + np.linspace(0, 1, CUT_STEPS)[:, None] * (segments[:, None, 2:] - segments[:, None, :2])


def lines_within(lines: DrawnLines, polygon: np.ndarray, inset_px: float, shortest_px: float) -> DrawnLines:
    """The parts of lines that stand in the polygon (K, 2), px, clear of its border by `inset_px`.

    A line that runs into the border is cut there; the border itself is left out. Parts under `shortest_px` are dropped.
    """
    parts, rows = _parts_within(lines.segments, polygon, inset_px, shortest_px)
    return DrawnLines(parts, lines.spread_px[rows])


def _parts_within(segments: np.ndarray, polygon: np.ndarray, inset_px: float, shortest_px: float) -> tuple[np.ndarray, np.ndarray]:
    """The parts (M, 4), and (M,) the row of `segments` that each is of."""
    low, high = polygon.min(0), polygon.max(0)
    reaches = ((segments[:, [0, 1]] < high) | (segments[:, [2, 3]] < high)).all(1)
    reaches &= ((segments[:, [0, 1]] > low) | (segments[:, [2, 3]] > low)).all(1)
    reaches &= np.hypot(segments[:, 2] - segments[:, 0], segments[:, 3] - segments[:, 1]) >= shortest_px
    reaching = np.flatnonzero(reaches)
    segments = segments[reaching]
    samples = _samples(segments)
    inside = _clear_of_border(samples.reshape(-1, 2), polygon, inset_px).reshape(len(segments), CUT_STEPS)
    first, last = inside.argmax(1), CUT_STEPS - 1 - inside[:, ::-1].argmax(1)
    rows = np.flatnonzero(inside.sum(1) > 1)
    parts = np.concatenate([samples[rows, first[rows]], samples[rows, last[rows]]], axis=1)
    whole = inside[rows].all(1)
    parts[whole] = segments[rows[whole]]
    long = np.hypot(parts[:, 2] - parts[:, 0], parts[:, 3] - parts[:, 1]) >= shortest_px
    return parts[long], reaching[rows[long]]


def _clear_of_border(points: np.ndarray, polygon: np.ndarray, inset_px: float) -> np.ndarray:
    """(P,) whether each point (P, 2) stands in the polygon, at least `inset_px` from its border; looked up in a small mask."""
    low, high = polygon.min(0), polygon.max(0)
    scale = min(1.0, MASK_PX / float((high - low).max()))
    width, height = np.ceil((high - low) * scale).astype(int) + 1
    mask = np.zeros((height + 2, width + 2), np.uint8)
    cv2.fillPoly(mask, [np.round((polygon - low) * scale).astype(np.int32) + 1], 1)
    clear = cv2.distanceTransform(mask, cv2.DIST_L2, 3) > inset_px * scale
    x, y = np.clip(((points - low) * scale).astype(int) + 1, 0, [width + 1, height + 1]).T
    within = ((points >= low) & (points <= high)).all(1)
    return clear[y, x] & within
