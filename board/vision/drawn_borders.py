"""Whether a frame has a border that the page's pen drew: an open panel's drawing may end along straight lines too."""

import numpy as np

from board.vision.page_ground import PageGround
from board.vision.page_piece import PieceScale
from board.vision.ruled_strokes import RuledStroke
from board.vision.shared_borders import HALF_STROKE, stroke_along

# From trials on drawn pages, no source.
LEAST_BORDERED = 0.6  # of the sides of a frame, by length
LEAST_SHARE = 0.5  # of a side
MOST_WAVY, LEAST_WIDTH = 2.5, 0.65  # times the page's pen: a side may be two borders', and its corners are rounded
SHORTEST = 0.02  # of the longer side
AT_EDGE_PX = 4  # so near to the picture's edge a side bleeds off
MOST_HIDDEN = 0.4


def has_drawn_border(polygon: np.ndarray, page: PageGround, pen: RuledStroke, scale: PieceScale) -> bool:
    """Whether strokes like the pen's run along most of a polygon (K, 2), but for what bleeds off or lies under balloons."""
    ends = np.stack([polygon, np.roll(polygon, -1, axis=0)], axis=1)
    runs = ends[:, 1] - ends[:, 0]
    lengths = np.hypot(*runs.T)
    inwards = np.stack([-runs[:, 1], runs[:, 0]], axis=1) / np.maximum(lengths, 1e-9)[:, None]
    inwards *= np.sign(((polygon.mean(axis=0) - ends[:, 0]) * inwards).sum(axis=1))[:, None]
    limit = np.array(page.gray.shape[::-1]) - AT_EDGE_PX
    bleeds = np.any(np.all((ends < AT_EDGE_PX) | (ends > limit), axis=1), axis=1)
    seen, bordered = 0.0, 0.0
    for line, length in zip((ends + HALF_STROKE * scale.longer_px * inwards[:, None])[~bleeds], lengths[~bleeds], strict=True):
        if length < SHORTEST * scale.longer_px:
            continue
        stroke = stroke_along(page.gray, line, scale, page.balloons, LEAST_SHARE)
        if stroke.hidden > MOST_HIDDEN:
            continue
        is_like = stroke.wobble_px <= MOST_WAVY * max(pen.wobble_px, 0.2) and stroke.width_px >= LEAST_WIDTH * pen.width_px
        seen, bordered = seen + length, bordered + (stroke.share * length if is_like else 0.0)
    return seen == 0 or bordered >= LEAST_BORDERED * seen
