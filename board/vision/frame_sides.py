"""The sides of a frame, and where the stroke runs that its border is drawn with."""

import numpy as np

from board.vision.page_piece import PieceScale

HALF_STROKE = 0.0015  # of the page's longer side; own choice, no source


def sides_of(polygon: np.ndarray, scale: PieceScale) -> tuple[np.ndarray, np.ndarray]:
    """Of a polygon (K, 2) px: its sides (K, 2, 2) from corner to corner, and the same moved inwards to the middle of their strokes,
    since an outline runs along the outer edge of the stroke."""
    ends = np.stack([polygon, np.roll(polygon, -1, axis=0)], axis=1)
    runs = ends[:, 1] - ends[:, 0]
    inwards = np.stack([-runs[:, 1], runs[:, 0]], axis=1) / np.maximum(np.hypot(*runs.T), 1e-9)[:, None]
    inwards *= np.sign(((polygon.mean(axis=0) - ends[:, 0]) * inwards).sum(axis=1))[:, None]
    return ends, ends + HALF_STROKE * scale.longer_px * inwards[:, None]


def bleed_off(ends: np.ndarray, gray: np.ndarray, edge_px: float) -> np.ndarray:
    """(K,) which lines (K, 2, 2) px lie along an edge of the picture `gray` (H, W), within `edge_px` of it."""
    limit = np.array(gray.shape[::-1]) - edge_px
    return np.any(np.all((ends < edge_px) | (ends > limit), axis=1), axis=1)
