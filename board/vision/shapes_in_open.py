"""Shapes in the drawing of an open panel that are no frames: a window or a sign seen at a slant has straight sides too."""

import numpy as np

from board.vision.convex_polygons import polygon_area
from board.vision.open_panels import LEAST_AREA, find_open_panels
from board.vision.page_lanes import is_upright, lies_within
from board.vision.page_piece import PieceScale


def without_shapes(frames: list[np.ndarray], content: np.ndarray, scale: PieceScale) -> list[np.ndarray]:
    """The frames (K, 2) but for those that stand askew in an open panel which is found without them, and are smaller than panels or
    the only one.

    content: bool (H, W), what is drawn.
    """
    # The only frame of a page, askew: a wall seen at a slant, and the page is one drawing, or has open panels alone.
    is_lone = len(frames) == 1
    small = [k for k, frame in enumerate(frames)
             if (is_lone or polygon_area(frame) < LEAST_AREA * scale.area_px) and not is_upright(frame)]
    if not small:
        return frames
    rest = [frame for k, frame in enumerate(frames) if k not in small]
    open_boxes = find_open_panels(content, rest, scale)
    return rest + [frames[k] for k in small if not lies_within(frames[k], open_boxes)]
