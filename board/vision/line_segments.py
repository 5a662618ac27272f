"""Straight segments of a drawing or a picture: where an edge or a stroke runs straight.

Source of the detector: von Gioi, Jakubowicz, Morel and Randall, LSD: a line segment detector, 2012 (OpenCV's).
"""

import cv2
import numpy as np

from board.vision.collinear import merge_collinear
from board.vision.stroke_centre import centred_on_strokes

HALVED_ABOVE_PX = 2000  # a scanned page at half scale keeps four in five of the long segments at a fifth of the time
SHORTEST_PX = 12.0
EDGE_OF_PICTURE_PX = 3.0


def find_segments(gray: np.ndarray) -> np.ndarray:
    """Segments (N, 4) float64 x1 y1 x2 y2 in px of `gray` uint8 (H, W), pixel (i, j) covering [i, i+1]; longest first.

    Sub-pixel; the two sides of a stroke and the pieces of a broken line are merged into the line they follow. (0, 4) on a blank.
    """
    height, width = gray.shape
    if min(height, width) < 2 * EDGE_OF_PICTURE_PX:
        return np.zeros((0, 4))
    scale = 0.5 if max(height, width) > HALVED_ABOVE_PX else 1.0
    small = gray if scale == 1.0 else cv2.resize(gray, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA)
    raw = cv2.createLineSegmentDetector().detect(np.ascontiguousarray(small))[0]
    if raw is None:
        return np.zeros((0, 4))
    merged = merge_collinear(np.asarray(raw, float).reshape(-1, 4))
    # The detector puts pixel centres at whole numbers.
    segments = (merged + 0.5) * np.tile([width / small.shape[1], height / small.shape[0]], 2)
    segments = segments[_lengths(segments) >= SHORTEST_PX]
    segments = centred_on_strokes(segments - 0.5, gray) + 0.5
    return segments[np.argsort(-_lengths(segments), kind="stable")]


def _lengths(segments: np.ndarray) -> np.ndarray:
    return np.hypot(segments[:, 2] - segments[:, 0], segments[:, 3] - segments[:, 1])
