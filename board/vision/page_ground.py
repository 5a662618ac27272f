"""What of a page is ground: the paper around and between the panels, light, dark or toned."""

from dataclasses import dataclass

import cv2
import numpy as np

from board.vision.balloon_areas import find_balloon_areas
from board.vision.bare_edge import bare_edge
from board.vision.connected_parts import connected_parts
from board.vision.crossing_strokes import bare_under_strokes
from board.vision.even_light import even_light
from board.vision.graded_ground import level_ground
from board.vision.ground_value import MOST_TOLERANCE, ground_value
from board.vision.page_piece import page_side_px
from board.vision.ripples import ripples_beside
from board.vision.ruled_strokes import RuledStroke

SLOT_LENGTH = 0.04  # of the longer side of the page
SLOT_WIDTH = 0.03
RIPPLES = 3.0  # times as far as within the tolerance paper strays right beside a stroke. From trials, no source
DARK, LEAST_DARK_GUTTER = 128, 0.006  # a grey value; of the longer side: ink mostly is thinner
# Thinner ones that run on level or upright for so much of the longer side; a ruled stroke is thinner still, and beside wide gutters
# a thick one is no gutter either. From trials on drawn pages, no source.
THIN_DARK_GUTTER, STRAIGHT_ON, THINNEST_PX, LEAST_OF_USUAL = 0.0025, 0.06, 3, 0.5
# One gutter opens into others. Of the picture, so much has to have opened for another look.
MOST_ROUNDS, LEAST_OPENED = 2, 0.002
LEAST_GUTTER = 0.2  # of the longer side: so long have the gutters of one width to be in all


@dataclass(frozen=True)
class PageGround:
    """Masks of one reduced picture, `gray` (uint8 (H, W)), each bool (H, W)."""

    gray: np.ndarray
    paper: np.ndarray  # has the value of the ground, wherever it lies
    ground: np.ndarray  # paper that is reached from the edge of the picture without crossing a line
    balloons: np.ndarray  # what lies over the drawing, and over gutters too
    slots: np.ndarray  # long thin paper that is not reached: gutters closed by strokes that cross them, or lines close together
    gutters_px: tuple[float, ...] = ()  # the width that the gutters of the ground mostly have, and those of others that were found
    pen: RuledStroke | None = None  # that borders are drawn with; None where they are not looked at yet, or have none

    @property
    def gutter_px(self) -> float:
        """How wide gutters are on this page; 0 where none is known."""
        return float(np.median(self.gutters_px)) if self.gutters_px else 0.0


def find_ground(gray: np.ndarray) -> PageGround:
    """The ground of `gray` (uint8 (H, W)); a full-bleed picture has paper by its most likely value and may have no ground."""
    even = even_light(gray)
    even = level_ground(gray) if even is gray else even
    paper, ground = _paper_and_ground(even)
    return PageGround(gray, paper, ground, find_balloon_areas(gray), _slots(paper & ~ground), _gutter_widths_px(ground))


def _paper_and_ground(even: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """What has the value of the ground, and what of it is reached from the edge."""
    value, tolerance = ground_value(even)
    off = np.abs(even.astype(np.int16) - value)
    paper = off <= tolerance
    ground = reached_from_edge(paper)
    inked = off > MOST_TOLERANCE
    rippled = RIPPLES * ripples_beside(inked, ground, off)
    if rippled and tolerance < MOST_TOLERANCE:
        paper = off <= min(tolerance + rippled, MOST_TOLERANCE)
        ground = reached_from_edge(paper)
    if value < DARK:
        return _without_ink(paper)
    bare = paper
    for _ in range(MOST_ROUNDS):
        before, bare = ground, bare_under_strokes(bare, ground, inked)
        ground = reached_from_edge(bare)
        if (ground & ~before).mean() < LEAST_OPENED:
            break
    return paper, ground  # what strokes cover is drawn on, though it is reached


def _without_ink(paper: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Dark paper and the ground of it, without the ink of the drawing, which is as dark and runs into gutters."""
    size, thin, long = (max(2, round(share * page_side_px(paper.shape)))
                        for share in (LEAST_DARK_GUTTER, THIN_DARK_GUTTER, STRAIGHT_ON))
    wide = _opened(paper, size, size)
    ground = reached_from_edge(wide)
    thin = max(thin, *(round(LEAST_OF_USUAL * width) for width in _gutter_widths_px(ground)), 0)
    if not THINNEST_PX <= thin < size:
        return wide, ground
    wide = wide | _opened(paper, thin, long) | _opened(paper, long, thin)
    return wide, reached_from_edge(wide)


def _opened(mask: np.ndarray, height: int, width: int) -> np.ndarray:
    """What of `mask` (bool (H, W)) such a box fits into."""
    return cv2.morphologyEx(mask.astype(np.uint8), cv2.MORPH_OPEN, np.ones((height, width), np.uint8)) > 0


def reached_from_edge(paper: np.ndarray) -> np.ndarray:
    """The part of `paper` (bool (H, W)) that hangs together with the bare stretches of the picture's edge."""
    _, labels = cv2.connectedComponents(paper.astype(np.uint8), connectivity=4)
    at_edge = np.zeros(labels.max() + 1, bool)
    at_edge[labels[bare_edge(paper)]] = True
    at_edge[0] = False
    return at_edge[labels]


def _slots(enclosed: np.ndarray) -> np.ndarray:
    """The parts of `enclosed` (bool (H, W)) that are long and nowhere wider than a gutter."""
    longer = page_side_px(enclosed.shape)
    labels, stats = connected_parts(enclosed, 4)
    reach = cv2.distanceTransform(enclosed.astype(np.uint8), cv2.DIST_L2, 3)
    is_slot = stats[:, 2:4].max(axis=1) >= SLOT_LENGTH * longer
    is_slot[labels[reach > SLOT_WIDTH / 2 * longer]] = False
    is_slot[0] = False
    return is_slot[labels]


def _gutter_widths_px(ground: np.ndarray) -> tuple[float, ...]:
    """The commonest length of the short runs of `ground` (bool (H, W)) along rows and columns, as if seen twice; () where there
    are too few to tell."""
    widest = round(SLOT_WIDTH * page_side_px(ground.shape))
    lengths = np.concatenate([_run_lengths(ground[::4]), _run_lengths(ground.T[::4])])
    counts = np.bincount(lengths[(lengths > 2) & (lengths <= widest)], minlength=widest + 1)
    near = np.convolve(counts, np.ones(3), "same")
    width = float(near.argmax())
    return (width, width) if near.max() >= LEAST_GUTTER * page_side_px(ground.shape) / 4 else ()


def _run_lengths(rows: np.ndarray) -> np.ndarray:
    """Lengths of the runs of True in the rows of a mask, but for those that end at an edge."""
    steps = np.diff(rows.astype(np.int8), axis=1)
    starts, stops = np.argwhere(steps == 1), np.argwhere(steps == -1)
    # Each row's first stop belongs to a run from the edge, if it begins with one; its last start to one that reaches the edge.
    starts = starts[~_is_last_open(starts, rows[:, -1])]
    stops = stops[~_is_first_open(stops, rows[:, 0])]
    return stops[:, 1] - starts[:, 1]


def _is_last_open(starts: np.ndarray, reaches: np.ndarray) -> np.ndarray:
    last = np.append(np.diff(starts[:, 0]) != 0, True)[: len(starts)]
    return last & reaches[starts[:, 0]]


def _is_first_open(stops: np.ndarray, begins: np.ndarray) -> np.ndarray:
    first = np.insert(np.diff(stops[:, 0]) != 0, 0, True)[: len(stops)]
    return first & begins[stops[:, 0]]
