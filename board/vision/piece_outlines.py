"""The outlines of the pieces of a page, without what hangs on a panel, and put together again where a cut ran through one."""

import numpy as np

from board.vision.drawn_borders import has_drawn_border
from board.vision.frame_lines import FrameLine
from board.vision.page_ground import PageGround
from board.vision.page_piece import Piece, PieceScale
from board.vision.panel_outline import PanelOutline, outline_of, outline_of_body
from board.vision.panel_pieces import Cut, PieceWithSides
from board.vision.piece_body import largest_body
from board.vision.shared_borders import stroke_along

# Of the outline of a panel, from trials on drawn pages, no source.
LEAST_WHOLE = 0.75  # runs along straight sides, for it to be put together again
LEAST_RULED = 0.9  # does, and has the pen's stroke along it, where something else hangs on it
PAST_CORNER, LEAST_PAST = (0.006, 0.03), 0.7  # of the longer side, and of that way: there a side runs on that ends further off


def outlines_of(pieces: list[PieceWithSides], cuts: list[Cut], page: PageGround, scale: PieceScale) -> list[PanelOutline]:
    """Of every piece its outline; that of the whole where a cut left a part that is no frame of what had a border all round.

    cuts: in the order in which they were made.
    """
    found = [(piece, _outline(piece, lines, page, scale)) for piece, lines in pieces]
    for whole, parts in reversed(cuts):
        own = [outline for piece, outline in found if any(piece is part for part in parts)]
        if page.pen is None or len(own) < len(parts) or all(outline.framed for outline in own):
            continue
        outline = outline_of_body(whole, page.ground.shape, scale)
        if outline.framed_share >= LEAST_WHOLE and has_drawn_border(outline.polygon, page, page.pen, scale):
            found = [pair for pair in found if not any(pair[0] is part for part in parts)] + [(whole, outline)]
    return [outline for _, outline in found]


def _outline(piece: Piece, lines: list[FrameLine], page: PageGround, scale: PieceScale) -> PanelOutline:
    """The outline of a piece; of its largest part that no thin stroke holds together, where that is ruled all round: what a border
    runs into past its corner is the drawing of an open panel beside."""
    outline = outline_of_body(piece, page.ground.shape, scale, lines)
    if page.pen is None or outline.framed_share >= LEAST_RULED:
        return outline
    body = largest_body(piece, scale)
    within = outline_of(body, scale) if body else outline
    is_ruled = within.framed_share >= LEAST_RULED and has_drawn_border(within.polygon, page, page.pen, scale, LEAST_RULED)
    return within if is_ruled and not _goes_on(within.polygon, page, scale) else outline


def _goes_on(polygon: np.ndarray, page: PageGround, scale: PieceScale) -> bool:
    """Whether both sides that meet a third one run on past it: then that is a line in the drawing, and the panel goes on."""
    near, far = (share * scale.longer_px for share in PAST_CORNER)
    runs = polygon - np.roll(polygon, 1, axis=0)
    runs = runs / np.maximum(np.hypot(*runs.T), 1e-9)[:, None]
    past_end = [stroke_along(page.gray, np.array([p + near * run, p + far * run]), scale).share > LEAST_PAST
                for p, run in zip(polygon, runs, strict=True)]
    past_start = [stroke_along(page.gray, np.array([p - near * run, p - far * run]), scale).share > LEAST_PAST
                  for p, run in zip(polygon, np.roll(runs, -1, axis=0), strict=True)]
    return any(end and start for end, start in zip(past_end, past_start[1:] + past_start[:1], strict=True))
