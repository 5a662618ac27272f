"""Whether a frame has a border that the page's pen drew: an open panel's drawing may end along straight lines too."""

import numpy as np

from board.vision.frame_sides import bleed_off, sides_of
from board.vision.page_ground import PageGround
from board.vision.page_pen import AT_EDGE_PX, MOST_HIDDEN
from board.vision.page_piece import PieceScale
from board.vision.ruled_strokes import RuledStroke
from board.vision.shared_borders import stroke_along

# From trials on drawn pages, no source.
LEAST_BORDERED = 0.6  # of the sides of a frame, by length
LEAST_SHARE = 0.5  # of a side
MOST_WAVY, LEAST_WIDTH = 2.5, 0.65  # times the page's pen: a side may be two borders', and its corners are rounded
MOST_PALER = 60  # grey values against the page's pen: the limit of a tone is no stroke
SHORTEST = 0.02  # of the longer side


def has_drawn_border(
    polygon: np.ndarray, page: PageGround, pen: RuledStroke, scale: PieceScale, least_bordered: float = LEAST_BORDERED
) -> bool:
    """Whether strokes like the pen's run along most of a polygon (K, 2), but for what bleeds off or lies under balloons."""
    ends, within = sides_of(polygon, scale)
    lengths, bleeds = np.hypot(*(ends[:, 1] - ends[:, 0]).T), bleed_off(ends, page.gray, AT_EDGE_PX)
    seen, bordered = 0.0, 0.0
    for line, length in zip(within[~bleeds], lengths[~bleeds], strict=True):
        if length < SHORTEST * scale.longer_px:
            continue
        stroke = stroke_along(page.gray, line, scale, page.balloons, LEAST_SHARE)
        if stroke.hidden > MOST_HIDDEN:
            continue
        is_like = stroke.wobble_px <= MOST_WAVY * max(pen.wobble_px, 0.2) and stroke.width_px >= LEAST_WIDTH * pen.width_px
        is_like &= stroke.value <= pen.value + MOST_PALER
        seen, bordered = seen + length, bordered + (stroke.share * length if is_like else 0.0)
    return seen == 0 or bordered >= least_bordered * seen
