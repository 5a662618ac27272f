"""Where balloons and captions lie over a drawing: the paper that their words stand on."""

import cv2
import numpy as np

from board.vision.connected_parts import connected_parts
from board.vision.lettered_areas import Box, rows_of_letters
from board.vision.page_piece import page_side_px

BRIGHT = 40  # grey values under the brightest of what is around the words: still their paper
MOST_AREA = 0.06  # of the picture: larger is the page's own paper, or a wall's
LEAST_HELD = 0.5  # of the paper between the letters of a row, and of that around them, that is one piece
LEAST_INK = 70  # grey values between the lightest and the darkest twentieth of a row of words
RIM = 0.004  # of the longer side: the line around a balloon


def find_balloon_areas(gray: np.ndarray) -> np.ndarray:
    """bool (H, W) of `gray`, uint8 (H, W) of WORKING_PX at most: true on closed pieces of paper that hold lettering, and on their
    outlines.

    Where words stand on open paper, the room right around them alone.
    """
    areas, page_px = np.zeros(gray.shape, np.uint8), page_side_px(gray.shape)
    rows = [row for row in rows_of_letters(gray, page_px) if _is_inked(gray, row[0])]
    if not rows:
        return areas > 0
    for _, (left, top, right, bottom) in rows:
        areas[top:bottom, left:right] = 1
    paper = int(np.percentile(gray[areas > 0], 95))
    papers, stats = connected_parts(gray >= paper - BRIGHT, 4)
    for label in {_held_by(papers, *row) for row in rows} - {0}:
        if stats[label, cv2.CC_STAT_AREA] <= MOST_AREA * gray.size:
            _fill(areas, papers, stats[label], label)
    rim = 2 * max(1, round(RIM * page_px)) + 1
    return cv2.dilate(areas, np.ones((rim, rim), np.uint8)) > 0


def _is_inked(gray: np.ndarray, box: Box) -> bool:
    """Whether the letters of a row are as dark as ink: the ends of construction lines stand in rows too."""
    left, top, right, bottom = box
    darkest, lightest = np.percentile(gray[top:bottom, left:right], (5, 95))
    return bool(lightest - darkest >= LEAST_INK)


def _held_by(papers: np.ndarray, own: Box, around: Box) -> int:
    """The piece of paper, by labels (H, W), that a row of letters stands on, 0 where there is none: what is taken for letters on a
    beam does not stand on the wall beneath, and between the strokes of hatching lie many pieces."""
    most = {_most_of(papers[top:bottom, left:right]) for left, top, right, bottom in (own, around)}
    return most.pop() if len(most) == 1 else 0


def _most_of(papers: np.ndarray) -> int:
    """The label that most of some paper (h, w) has; 0 where none has."""
    on = np.bincount(papers.ravel(), minlength=2)
    on[0] = 0
    held = int(on.argmax())
    return held if on[held] >= LEAST_HELD * on.sum() > 0 else 0


def _fill(areas: np.ndarray, labels: np.ndarray, stats: np.ndarray, label: int) -> None:
    """Sets one part of a labelled picture, with its holes, in `areas` (uint8 (H, W))."""
    left, top, width, height = stats[:4]
    part = (labels[top : top + height, left : left + width] == label).astype(np.uint8)
    contours, _ = cv2.findContours(part, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    cv2.drawContours(areas, contours, -1, 1, -1, offset=(int(left), int(top)))
