"""Cuts what stands on the ground of a page into pieces, one a panel where the panels have straight sides."""

from dataclasses import replace

import cv2
import numpy as np

from board.vision.connected_parts import connected_parts
from board.vision.convex_polygons import chord_of, convex_hull
from board.vision.frame_lines import FrameLine, find_frame_lines
from board.vision.gutter_evidence import LEAST_STRIP, PossibleGutter, possible_gutter
from board.vision.gutter_strip import measure_strip
from board.vision.page_ground import PageGround
from board.vision.page_pen import pen_of
from board.vision.page_piece import Piece, PieceScale
from board.vision.panel_outline import sides_in
from board.vision.piece_body import framed_body
from board.vision.ruled_strokes import RuledStroke

PieceWithSides = tuple[Piece, list[FrameLine]]
PossibleCut = tuple[PossibleGutter, FrameLine]
Cut = tuple[Piece, list[Piece]]  # what was cut, and its parts


def find_pieces(page: PageGround, scale: PieceScale) -> tuple[list[PieceWithSides], list[Cut], RuledStroke | None]:
    """The large connected parts of the content, cut where a gutter runs through one that something bridges; those cuts as they were
    made; and the page's pen."""
    pieces: list[PieceWithSides] = []
    cuts: list[Cut] = []
    waiting = _with_lines(_large_parts(~page.ground, 0, 0, scale), scale)
    page = replace(page, pen=pen_of(waiting, page, scale))
    while waiting:
        piece, lines = waiting.pop()
        possible = _possible_cuts(piece, lines, page, scale) if len(pieces) + len(waiting) < 200 else []
        line = _best_cut(possible, piece, scale)
        if line is None:
            pieces.append((piece, lines))
        else:
            if not page.gutters_px:  # what is found first alone would tell what others are like
                page = replace(page, gutters_px=_likely_widths_px(possible))
            page = _with_gutter(page, piece, line, scale)
            parts = [part for half in _cut(piece, line, scale) for part in _off_ground(half, page, scale)]
            cuts.append((piece, parts))
            waiting += _with_lines(parts, scale)
    return pieces, cuts, page.pen


def _with_lines(pieces: list[Piece], scale: PieceScale) -> list[PieceWithSides]:
    """Each piece with the straight sides of panels in it."""
    return [(piece, sides_in(piece, scale)) for piece in pieces]


def _least_line_px(piece: Piece, scale: PieceScale) -> float:
    return max(scale.least_side_px, 0.3 * min(piece.mask.shape))


def _large_parts(mask: np.ndarray, left: int, top: int, scale: PieceScale) -> list[Piece]:
    labels, stats = connected_parts(mask, 8)
    pieces = []
    for k, (x, y, width, height, _) in enumerate(stats[1:].tolist(), 1):
        if min(width, height) >= scale.least_side_px and width * height >= scale.least_area_px:
            part = labels[y : y + height, x : x + width] == k
            pieces.append(Piece(part, left + x, top + y))
    return pieces


def _heights(piece: Piece, line: FrameLine) -> np.ndarray:
    height, width = piece.mask.shape
    return (np.arange(width) * line.normal[0])[None, :] + (np.arange(height) * line.normal[1])[:, None] - line.offset


def _cut(piece: Piece, line: FrameLine, scale: PieceScale) -> list[Piece]:
    heights = _heights(piece, line)
    inside = piece.mask & (heights <= scale.line_tolerance_px / 2)
    outside = piece.mask & (heights > scale.line_tolerance_px / 2)
    return [part for mask in (inside, outside) for part in _large_parts(mask, piece.left, piece.top, scale)]


def _off_ground(piece: Piece, page: PageGround, scale: PieceScale) -> list[Piece]:
    height, width = piece.mask.shape
    ground = page.ground[piece.top : piece.top + height, piece.left : piece.left + width]
    if not (piece.mask & ground).any():
        return [piece]
    return _large_parts(piece.mask & ~ground, piece.left, piece.top, scale)


def _with_gutter(page: PageGround, piece: Piece, line: FrameLine, scale: PieceScale) -> PageGround:
    """The page with the slots that lie in a gutter as ground, and with them those that open into it."""
    chord = chord_of(convex_hull(piece.mask), line.normal, line.offset)
    if chord is None:
        return page
    corner = np.array([piece.left, piece.top], float)
    offset = line.offset + float(corner @ line.normal) + 2
    ends = chord[0] + corner, chord[1] + corner
    strip = measure_strip(page, ends, line.normal, offset, scale.longer_px, scale.line_tolerance_px)
    if strip.share < LEAST_STRIP:
        return page
    page = replace(page, gutters_px=(*page.gutters_px, strip.far - strip.near))
    middle = (strip.near + strip.far) / 2 - float(corner @ line.normal)
    height, width = piece.mask.shape
    box = np.s_[piece.top : piece.top + height, piece.left : piece.left + width]
    _, labels = cv2.connectedComponents((page.slots[box] & piece.mask).astype(np.uint8), connectivity=4)
    in_gutter = np.abs(_heights(piece, line) + line.offset - middle) <= (strip.far - strip.near) / 4
    counts = np.bincount(labels[in_gutter], minlength=labels.max() + 1)
    is_gutter = counts >= max(10, 0.1 * float(np.hypot(*(chord[1] - chord[0]))))
    is_gutter[0] = False
    ground = page.ground.copy()
    ground[box] |= is_gutter[labels]
    return replace(page, ground=ground)


def _best_cut(possible: list[PossibleCut], piece: Piece, scale: PieceScale) -> FrameLine | None:
    """The side of one panel that goes on as a gutter through the whole piece, with a panel's worth on both of its sides."""
    best: PossibleCut | None = None
    for gutter, line in possible:
        # A beam along a border leaves a strip too: of lines with no room for a panel between them one is a gutter.
        if best and not gutter.is_rival_of(best[0]) or not gutter.is_likely or not _parts_both_sides(piece, line, scale):
            continue
        if best is None or gutter.odds > best[0].odds:
            best = gutter, line
    return best[1] if best else None


def _likely_widths_px(possible: list[PossibleCut]) -> tuple[float, ...]:
    """How wide those are that are likely gutters by themselves."""
    return tuple(gutter.width_px for gutter, _ in possible if gutter.width_px is not None and gutter.is_likely)


def _possible_cuts(piece: Piece, lines: list[FrameLine], page: PageGround, scale: PieceScale) -> list[PossibleCut]:
    """The lines that a gutter may run along, the surest first."""
    hull = convex_hull(piece.mask)
    lines = [line for line in lines if line.support >= _least_line_px(piece, scale)]
    cuts = [line for line in lines + _slot_lines(piece, page, scale) if _has_room_aside(hull, line, scale)]
    body = framed_body(piece.mask, lines, scale) if cuts else hull
    possible = []
    for line in cuts:
        chord = chord_of(body, line.normal, line.offset)
        gutter = possible_gutter(piece, line, body, chord, page, scale) if chord is not None else None
        if gutter is not None and gutter.share > 0:
            possible.append((gutter, line))
    return sorted(possible, key=lambda pair: -pair[0].share)


def _slot_lines(piece: Piece, page: PageGround, scale: PieceScale) -> list[FrameLine]:
    """The far sides of the slots in a piece: lines that may run in a gutter which crossing strokes have closed."""
    height, width = piece.mask.shape
    box = np.s_[piece.top : piece.top + height, piece.left : piece.left + width]
    # Of a gutter that crosses another the slot is ground once the other is cut, and yet closed all round.
    slots = page.slots[box] & (piece.mask | page.ground[box])
    lines = find_frame_lines(slots, scale.line_tolerance_px, _least_line_px(piece, scale)) if slots.any() else []
    # A line's inside is the slot; the gutter is looked for beyond the line, so it is set back by what the look-out adds.
    return [FrameLine(line.normal, line.offset - 4, line.support, line.span) for line in lines]


def _has_room_aside(hull: np.ndarray, line: FrameLine, scale: PieceScale) -> bool:
    """Whether the hull of a piece reaches out on both sides of a line as far as a panel must: a border has nothing outside."""
    heights = line.height_of(hull)
    return min(heights.max() - scale.line_tolerance_px, scale.line_tolerance_px - heights.min()) >= scale.least_side_px


def _parts_both_sides(piece: Piece, line: FrameLine, scale: PieceScale) -> bool:
    heights = _heights(piece, line)
    edge = scale.line_tolerance_px
    for side in (piece.mask & (heights <= edge), piece.mask & (heights > edge)):
        if side.sum() < 0.25 * scale.least_area_px or not _large_parts(side, 0, 0, scale):
            return False
        if np.ptp(heights[side]) < scale.least_side_px:
            return False
    return True
