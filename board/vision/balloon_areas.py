"""Where balloons and captions lie over a drawing: the paper that their words stand on."""

import cv2
import numpy as np

from board.vision.connected_parts import connected_parts
from board.vision.lettered_areas import lettered_mask

BRIGHT = 40  # grey values under the brightest of what is around the words: still their paper
MOST_AREA = 0.06  # of the picture: larger is the page's own paper, or a wall's
LEAST_HELD = 0.5  # of the room of a row of words that lies on one piece of paper
RIM = 0.004  # of the longer side: the line around a balloon


def find_balloon_areas(gray: np.ndarray) -> np.ndarray:
    """bool (H, W) of `gray` uint8 (H, W): true on closed pieces of paper that hold lettering, and on their outlines.

    Where words stand on open paper, the room right around them alone.
    """
    lettered = lettered_mask(gray)
    if not lettered.any():
        return lettered > 0
    areas = lettered.copy()
    rows, stats = connected_parts(lettered, 8)
    paper = int(np.percentile(gray[lettered > 0], 95))
    papers, paper_stats = connected_parts(gray >= paper - BRIGHT, 4)
    for k in range(1, len(stats)):
        left, top, width, height = stats[k, :4]
        box = np.s_[top : top + height, left : left + width]
        on = np.bincount(papers[box][rows[box] == k])
        on[0] = 0
        held = int(on.argmax())
        if on[held] >= LEAST_HELD * on.sum() > 0 and paper_stats[held, cv2.CC_STAT_AREA] <= MOST_AREA * gray.size:
            areas |= _filled(papers, paper_stats[held], held)
    rim = 2 * max(1, round(RIM * max(gray.shape))) + 1
    return cv2.dilate(areas, np.ones((rim, rim), np.uint8)) > 0


def _filled(labels: np.ndarray, stats: np.ndarray, label: int) -> np.ndarray:
    """One part of a labelled picture with its holes, as uint8 (H, W)."""
    left, top, width, height = stats[:4]
    part = (labels[top : top + height, left : left + width] == label).astype(np.uint8)
    contours, _ = cv2.findContours(part, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    whole = np.zeros(labels.shape, np.uint8)
    cv2.drawContours(whole, contours, -1, 1, -1, offset=(int(left), int(top)))
    return whole
