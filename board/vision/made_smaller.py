"""A large picture made smaller to be looked at as a whole."""

import cv2
import numpy as np


def made_smaller(gray: np.ndarray, longer_px: int) -> np.ndarray:
    """`gray` uint8 (H, W) with a longer side of `longer_px` at most, by the mean of what falls on each pixel; as it is if smaller.

    Halved first where it is twice as large or more: the mean of four pixels is far quicker than that of parts of pixels.
    """
    if max(gray.shape) >= 2 * longer_px:
        gray = cv2.resize(gray, None, fx=0.5, fy=0.5, interpolation=cv2.INTER_AREA)
    share = longer_px / max(gray.shape)
    if share >= 1:
        return gray
    size = max(1, round(gray.shape[1] * share)), max(1, round(gray.shape[0] * share))
    return cv2.resize(gray, size, interpolation=cv2.INTER_AREA)
