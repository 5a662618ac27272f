"""Panels without a frame: what is drawn on a tier outside of all frames."""

import cv2
import numpy as np

from board.vision.connected_parts import connected_parts
from board.vision.convex_polygons import polygon_area, shared_area
from board.vision.page_piece import PieceScale

LEAST_AREA = 0.025  # of the picture: less is lettering, a page number, a sound word
LEAST_SIDE = 0.055  # of the longer side
MOST_SHARED = 0.3  # with framed panels: more than that is what sticks out around them
REACH = 0.03  # of the longer side: parts nearer than twice this belong together
THIN, LONGEST_END = 0.008, 0.03  # of the longer side: an end of a border
MOST_LETTERED = 0.5  # of a panel, by balloons
TIER_REACH = 0.15  # of the width: and within a tier, parts nearer than this


def without_lettering(boxes: list[np.ndarray], balloons: np.ndarray) -> list[np.ndarray]:
    """The boxes (4, 2) but for those that are balloons or captions, `balloons` (bool (H, W)), which stand free between panels."""
    edges = [np.round([box.min(axis=0), box.max(axis=0)]).astype(int).T for box in boxes]
    return [box for box, (x, y) in zip(boxes, edges, strict=True) if balloons[slice(*y), slice(*x)].mean() < MOST_LETTERED]


def find_open_panels(content: np.ndarray, frames: list[np.ndarray], scale: PieceScale) -> list[np.ndarray]:
    """Boxes (4, 2) of the groups of `content` (bool (H, W)) that lie outside of the polygons `frames`."""
    covered = _covered(content.shape, frames, round(0.008 * scale.longer_px))
    boxes = _part_boxes(content & ~covered, covered, scale)
    groups = _joined(boxes, frames, scale)
    panels = [corners(box) for box in groups if _is_panel(box, scale)]
    return [box for box in panels if sum(shared_area(box, frame) for frame in frames) <= MOST_SHARED * polygon_area(box)]


def _covered(shape: tuple[int, int], frames: list[np.ndarray], margin_px: int) -> np.ndarray:
    mask = np.zeros(shape, np.uint8)
    for polygon in frames:
        cv2.fillPoly(mask, [np.round(polygon).astype(np.int32)], 1)
    size = 2 * margin_px + 1
    return cv2.dilate(mask, np.ones((size, size), np.uint8)).astype(bool)


def _part_boxes(mask: np.ndarray, covered: np.ndarray, scale: PieceScale) -> list[np.ndarray]:
    """left, top, right, bottom of the parts of `mask` that are more than specks, or than ends of strokes that run on past a frame's
    corner: thin ones beside what frames have `covered`."""
    labels, stats = connected_parts(mask, 8)
    beside = np.zeros(len(stats), bool)
    beside[labels[(cv2.dilate(covered.astype(np.uint8), np.ones((3, 3), np.uint8)) > 0) & mask]] = True
    long, thin = stats[:, 2:4].max(axis=1), stats[:, 2:4].min(axis=1)
    is_end = beside & (thin <= THIN * scale.longer_px) & (long <= LONGEST_END * scale.longer_px)
    is_part = (long >= 0.006 * scale.longer_px) & ~is_end
    is_part[0] = False
    return [np.array([x, y, x + width, y + height], float) for x, y, width, height, _ in stats[is_part]]


def _joined(boxes: list[np.ndarray], frames: list[np.ndarray], scale: PieceScale) -> list[np.ndarray]:
    """Boxes joined while two of them are near and no frame stands between them."""
    fences = [np.concatenate([polygon.min(axis=0), polygon.max(axis=0)]) for polygon in frames]
    joined = True
    while joined:
        joined = False
        for i in range(len(boxes)):
            for j in range(i + 1, len(boxes)):
                if _near(boxes[i], boxes[j], scale) and not _fenced(_around(boxes[i], boxes[j]), boxes[i], boxes[j], fences):
                    boxes[i] = _around(boxes[i], boxes[j])
                    del boxes[j]
                    joined = True
                    break
            if joined:
                break
    return boxes


def _around(a: np.ndarray, b: np.ndarray) -> np.ndarray:
    return np.concatenate([np.minimum(a[:2], b[:2]), np.maximum(a[2:], b[2:])])


def _near(a: np.ndarray, b: np.ndarray, scale: PieceScale) -> bool:
    gap = np.maximum(np.maximum(a[:2], b[:2]) - np.minimum(a[2:], b[2:]), 0)
    if gap.max() <= 2 * REACH * scale.longer_px:
        return True
    shared = min(a[3], b[3]) - max(a[1], b[1])
    lower = min(a[3] - a[1], b[3] - b[1])
    return bool(shared >= 0.5 * lower and gap[0] <= TIER_REACH * scale.area_px / scale.longer_px)


def _fenced(box: np.ndarray, a: np.ndarray, b: np.ndarray, fences: list[np.ndarray]) -> bool:
    """Whether the box around two parts takes in more of a framed panel than the parts already do."""
    def shared(part: np.ndarray, fence: np.ndarray) -> float:
        side = np.minimum(part[2:], fence[2:]) - np.maximum(part[:2], fence[:2])
        return float(max(0.0, side[0]) * max(0.0, side[1]))

    area = float(np.prod(box[2:] - box[:2]))
    return any(shared(box, fence) - shared(a, fence) - shared(b, fence) > 0.05 * area for fence in fences)


def _is_panel(box: np.ndarray, scale: PieceScale) -> bool:
    width, height = box[2:] - box[:2]
    return min(width, height) >= LEAST_SIDE * scale.longer_px and width * height >= LEAST_AREA * scale.area_px


def corners(box: np.ndarray) -> np.ndarray:
    """(4, 2) of left, top, right, bottom."""
    left, top, right, bottom = box
    return np.array([[left, top], [right, top], [right, bottom], [left, bottom]])
