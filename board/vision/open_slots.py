"""The room that an open panel has beside framed ones: it reaches from the top of their tier to its bottom."""

import numpy as np

from board.vision.convex_polygons import clip_by_line, polygon_area
from board.vision.page_piece import PieceScale

SAME_TIER = 0.6  # of the lower one's height that two panels of a tier share
MOST_BARE = 2.5  # times what is drawn: more room than that is not this panel's
GUTTER = 0.008  # of the longer side, kept to the neighbours


def fill_tier(box: np.ndarray, frames: list[np.ndarray], scale: PieceScale) -> np.ndarray:
    """The box (4, 2) of what is drawn, grown to the room between its framed neighbours; itself where it has a tier of its own."""
    (left, top), (right, bottom) = box.min(axis=0), box.max(axis=0)
    tier = [frame for frame in frames if _shares_tier(top, bottom, frame)]
    if not tier:
        return box
    top, bottom = min(top, *(f[:, 1].min() for f in tier)), max(bottom, *(f[:, 1].max() for f in tier))
    every = np.concatenate(frames)
    room = np.array([[min(left, every[:, 0].min()), top], [max(right, every[:, 0].max()), top],
                     [max(right, every[:, 0].max()), bottom], [min(left, every[:, 0].min()), bottom]])
    middle = np.array([(left + right) / 2, (top + bottom) / 2])
    for frame in tier:
        normal, offset = _facing_side(frame, middle)
        room = clip_by_line(room, -normal, -offset - GUTTER * scale.longer_px)
    fits = len(room) >= 3 and polygon_area(box) <= polygon_area(room) <= MOST_BARE * polygon_area(box)
    return room if fits else box


def _shares_tier(top: float, bottom: float, frame: np.ndarray) -> bool:
    shared = min(bottom, frame[:, 1].max()) - max(top, frame[:, 1].min())
    return bool(shared >= SAME_TIER * min(bottom - top, np.ptp(frame[:, 1])) and np.ptp(frame[:, 1]) <= 2 * (bottom - top))


def _facing_side(frame: np.ndarray, middle: np.ndarray) -> tuple[np.ndarray, float]:
    """Outward normal and offset of the side of a convex frame that `middle` lies furthest outside of."""
    best = (np.array([1.0, 0.0]), np.inf, -np.inf)
    centre = frame.mean(axis=0)
    for a, b in zip(frame, np.roll(frame, -1, axis=0), strict=True):
        run = b - a
        if np.hypot(*run) < 1e-6:
            continue
        normal = np.array([run[1], -run[0]]) / np.hypot(*run)
        normal = normal if normal @ (a - centre) > 0 else -normal
        if float((middle - a) @ normal) > best[2]:
            best = (normal, float(a @ normal), float((middle - a) @ normal))
    return best[0], best[1]
