"""What of a page is ground: the paper around and between the panels, light, dark or toned."""

from dataclasses import dataclass

import cv2
import numpy as np

from board.vision.bare_edge import bare_edge
from board.vision.even_light import even_light
from board.vision.ground_value import ground_value

SLOT_LENGTH = 0.04  # of the longer side of the page
SLOT_WIDTH = 0.03


@dataclass(frozen=True)
class PageGround:
    """Masks of one reduced picture, both bool (H, W)."""

    paper: np.ndarray  # has the value of the ground, wherever it lies
    ground: np.ndarray  # paper that is reached from the edge of the picture without crossing a line
    slots: np.ndarray  # long thin paper that is not reached: gutters closed by strokes that cross them, or lines close together


def find_ground(gray: np.ndarray) -> PageGround:
    """The ground of `gray` (uint8 (H, W)); a full-bleed picture has paper by its most likely value and may have no ground."""
    even = even_light(gray)
    value, tolerance = ground_value(even)
    paper = np.abs(even.astype(np.int16) - value) <= tolerance
    ground = reached_from_edge(paper)
    return PageGround(paper, ground, _slots(paper & ~ground))


def reached_from_edge(paper: np.ndarray) -> np.ndarray:
    """The part of `paper` (bool (H, W)) that hangs together with the bare stretches of the picture's edge."""
    _, labels = cv2.connectedComponents(paper.astype(np.uint8), connectivity=4)
    at_edge = np.zeros(labels.max() + 1, bool)
    at_edge[labels[bare_edge(paper)]] = True
    at_edge[0] = False
    return at_edge[labels]


def _slots(enclosed: np.ndarray) -> np.ndarray:
    """The parts of `enclosed` (bool (H, W)) that are long and nowhere wider than a gutter."""
    longer = max(enclosed.shape)
    _, labels, stats, _ = cv2.connectedComponentsWithStats(enclosed.astype(np.uint8), connectivity=4)
    reach = cv2.distanceTransform(enclosed.astype(np.uint8), cv2.DIST_L2, 3)
    is_slot = stats[:, 2:4].max(axis=1) >= SLOT_LENGTH * longer
    is_slot[np.unique(labels[reach > SLOT_WIDTH / 2 * longer])] = False
    is_slot[0] = False
    return is_slot[labels]
