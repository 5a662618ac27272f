"""How far paper strays beside strokes in a compressed picture: flat as it is elsewhere, ripples lie there."""

import cv2
import numpy as np

# From trials on drawn pages compressed more and less, no source.
NEAREST_PX, FURTHEST_PX = 3, 8  # from a stroke: past its soft edge, and as far as ripples go
STRAYING = 99  # percent: white is clipped, and most of the paper beside strokes has no ripple
STEP = 3  # of every third pixel away from strokes


def ripples_beside(drawn: np.ndarray, ground: np.ndarray, off: np.ndarray) -> float:
    """By how many grey values more than elsewhere the paper of the `ground` strays near what is surely `drawn`.

    drawn, ground: bool (H, W). off: int16 (H, W), how far each place is off the value of the ground.
    """
    strokes = drawn.view(np.uint8)
    near, beside = (cv2.dilate(strokes, np.ones((2 * px + 1, 2 * px + 1), np.uint8)) for px in (FURTHEST_PX, NEAREST_PX - 1))
    rippled, flat = off[ground & (near > beside)], off[::STEP, ::STEP][(ground & (near == 0))[::STEP, ::STEP]]
    if not rippled.size or not flat.size:
        return 0.0
    return max(0.0, float(np.percentile(rippled, STRAYING) - np.percentile(flat, STRAYING)))
