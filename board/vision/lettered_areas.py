"""Where a page is lettered: rows of marks that are as high as each other and stand close together."""

import cv2
import numpy as np
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import connected_components
from scipy.spatial import cKDTree

from board.vision.connected_parts import connected_parts
from board.vision.made_smaller import made_smaller

WORKING_PX = 1800  # of the longer side: letters stay apart, and time stays short
LETTER_HEIGHTS = (0.0045, 0.028)  # shares of the longer side
DARKER_BY = 18  # grey steps than what is around
WIDEST_LETTER = 2.2  # widths to the height
FEWEST_IN_A_ROW = 4
HIGHEST_ROW = 1.8  # letter heights: a row that climbs by more is hatching
MOST_MARKS = 20000
Box = tuple[int, int, int, int]  # left, top, right, bottom
AROUND = 1.6  # letter heights: the rim of a caption or a balloon stands about so far from its words


def find_lettered_areas(gray: np.ndarray) -> np.ndarray:
    """bool (h, w), smaller than `gray` uint8 (H, W) but of its shape: true on rows of letters and a little around them.

    Dark letters, by hand or in type. A row of small windows or bars may be taken for letters.
    """
    small = made_smaller(gray, WORKING_PX)
    found = np.zeros(small.shape, np.uint8)
    for _, (left, top, right, bottom) in rows_of_letters(small, max(small.shape)):
        found[top:bottom, left:right] = 1
    return found > 0


def rows_of_letters(small: np.ndarray, longer_px: float) -> list[tuple[Box, Box]]:
    """Of each row of letters its own box, and that with a little around it, px of `small`, uint8 (h, w) of WORKING_PX at most.

    longer_px: of the page or panel that they are written for."""
    rows = []
    for box, height in _rows_of_letters(_marks(small, longer_px), longer_px):
        own, around = (_clipped(box + share * height * np.array([-1, -1, 1, 1]), small.shape) for share in (0, AROUND))
        rows.append((own, around))
    return rows


def _clipped(box: np.ndarray, shape: tuple[int, ...]) -> Box:
    left, top, right, bottom = (max(0, int(edge)) for edge in box)
    return left, top, min(right, shape[1]), min(bottom, shape[0])


def lettered_mask(gray: np.ndarray) -> np.ndarray:
    """The same at the size of `gray` uint8 (H, W): uint8 (H, W), 1 on lettering and 0 elsewhere."""
    return cv2.resize(find_lettered_areas(gray).astype(np.uint8), gray.shape[::-1], interpolation=cv2.INTER_NEAREST)


def _marks(picture: np.ndarray, longer_px: float) -> np.ndarray:
    """(M, 4) left, top, width, height of what is darker than what is around it."""
    block = 2 * round(0.012 * longer_px) + 3
    dark = cv2.adaptiveThreshold(picture, 1, cv2.ADAPTIVE_THRESH_MEAN_C, cv2.THRESH_BINARY_INV, block, DARKER_BY)
    return connected_parts(dark, 8)[1][1:, :4].astype(float)


def _rows_of_letters(marks: np.ndarray, longer_px: float) -> list[tuple[np.ndarray, float]]:
    """The bounding box (4,) left, top, right, bottom and the letters' height of each row."""
    low, high = (share * longer_px for share in LETTER_HEIGHTS)
    width, height = marks[:, 2], marks[:, 3]
    marks = marks[(height >= low) & (height <= high) & (width <= WIDEST_LETTER * height)][:MOST_MARKS]
    if len(marks) < FEWEST_IN_A_ROW:
        return []
    left, top, width, height = marks.T
    middle = np.stack([left + width / 2, top + height / 2], axis=1)
    a, b = cKDTree(middle).query_pairs(2.2 * high, output_type="ndarray").T
    taller = np.maximum(height[a], height[b])
    gap = np.abs(middle[a, 0] - middle[b, 0]) - (width[a] + width[b]) / 2
    beside = (np.abs(middle[a, 1] - middle[b, 1]) < 0.35 * taller) & (gap < 0.9 * taller) & (gap > -0.3 * taller)
    beside &= np.minimum(height[a], height[b]) > 0.7 * taller
    links = coo_matrix((np.ones(beside.sum()), (a[beside], b[beside])), shape=(len(marks),) * 2)
    count, row = connected_components(links, directed=False)
    rows = []
    for k in np.flatnonzero(np.bincount(row, minlength=count) >= FEWEST_IN_A_ROW):
        of_row = marks[row == k]
        box = np.concatenate([of_row[:, :2].min(0), (of_row[:, :2] + of_row[:, 2:]).max(0)])
        usual = float(np.median(of_row[:, 3]))
        if box[3] - box[1] <= HIGHEST_ROW * usual:
            rows.append((box, usual))
    return rows
