"""Boxes that stand in a panel and hold nothing but words, as captions and credits do."""

import numpy as np

from board.vision.balloon_areas import BRIGHT
from board.vision.lettered_areas import rows_of_letters
from board.vision.page_piece import PieceScale

WITHIN = 0.008  # of the longer side: clear of the box's own frame
MOST_WORDS = 0.85  # of its ink, from where on it holds no drawing. From trials on drawn pages, no source


def is_caption(gray: np.ndarray, polygon: np.ndarray, scale: PieceScale) -> bool:
    """Whether nearly all that is drawn within a box (K, 2) of `gray` (uint8 (H, W)), dark on light, is rows of letters."""
    within = WITHIN * scale.longer_px
    left, top = np.ceil(polygon.min(axis=0) + within).clip(0).astype(int)
    right, bottom = np.floor(polygon.max(axis=0) - within).astype(int)
    box = np.ascontiguousarray(gray[top:bottom, left:right])
    if not box.size:
        return False
    is_inked = box < np.percentile(box, 95) - BRIGHT
    inked = int(is_inked.sum())
    for _, (x0, y0, x1, y1) in rows_of_letters(box, scale.longer_px):
        is_inked[y0:y1, x0:x1] = False
    return inked > 0 and int(is_inked.sum()) <= (1 - MOST_WORDS) * inked
