"""Cuts what stands on the ground of a page into pieces, one a panel where the panels have straight sides."""

from dataclasses import dataclass

import cv2
import numpy as np

from board.vision.convex_polygons import chord_of, convex_hull
from board.vision.frame_lines import FrameLine, find_frame_lines
from board.vision.frame_polygon import frame_polygon
from board.vision.gutter_strip import GutterStrip, count_crossed_ends, measure_strip
from board.vision.page_ground import PageGround

LEAST_SUPPORT = 0.45  # of a cut has to run along the side of a panel; or else
LEAST_BOTH_OPEN = 0.3  # of a cut has to lie between two flanks where both ends of the gutter are open
LEAST_ONE_OPEN = 0.6  # where one is, or none but the gutter is ground
LEAST_CLOSED = 0.85  # where strokes that stick out close it
LEAST_RULED = 0.95  # with borders so whole on both sides, what lies beside them may be as narrow as the gutter
LEAST_ONE_CROSSED = 0.8  # where it is as wide as the page's other gutters and one border runs on past the other
SAME_WIDTH = 0.15  # so far may a gutter be wider or narrower than the page's others
MOST_WOBBLE = 0.0011  # of the longer side: borders are ruled, what is drawn free of hand strays further
WAVIEST = 0.0016  # so far may borders stray where the gutter is no ground
SLANT_OF_GROUND = 0.25  # against square, of the side that such a gutter may end on where it is ground
SLANT_OF_SLOT = 0.06  # where it is not

THINNER = 0.004  # of the longer side: a stroke that sticks out is no part of the body of a panel
LONGEST_END = 0.03  # of the longer side: a longer one is
LEAST_BODY_SIDE = 0.6  # of a piece's length that a side of its body runs for

Chord = tuple[np.ndarray, np.ndarray]


@dataclass(frozen=True)
class PieceScale:
    """Sizes in px of the reduced picture that decide what is a panel; shares of its longer side or area are trials, no source."""

    longer_px: float
    area_px: float

    @property
    def line_tolerance_px(self) -> float:
        return max(2.0, 0.0025 * self.longer_px)

    @property
    def least_side_px(self) -> float:
        return 0.03 * self.longer_px

    @property
    def least_area_px(self) -> float:
        return 0.006 * self.area_px


@dataclass(frozen=True)
class Piece:
    """A part of the content, as a mask in its own box: `mask` bool (h, w), its top left corner at `left`, `top`."""

    mask: np.ndarray
    left: int
    top: int

    def full(self, shape: tuple[int, int]) -> np.ndarray:
        whole = np.zeros(shape, bool)
        height, width = self.mask.shape
        whole[self.top : self.top + height, self.left : self.left + width] = self.mask
        return whole


def find_pieces(page: PageGround, scale: PieceScale) -> list[Piece]:
    """The large connected parts of the content, cut where a gutter runs through a part that something bridges."""
    pieces: list[Piece] = []
    waiting = _large_parts(~page.ground, 0, 0, scale)
    while waiting:
        piece = waiting.pop()
        line = _best_cut(piece, page, scale) if len(pieces) + len(waiting) < 200 else None
        if line is None:
            pieces.append(piece)
        else:
            page = _with_gutter(page, piece, line, scale)
            waiting += [part for half in _cut(piece, line, scale) for part in _off_ground(half, page, scale)]
    return pieces


def _large_parts(mask: np.ndarray, left: int, top: int, scale: PieceScale) -> list[Piece]:
    count, labels, stats, _ = cv2.connectedComponentsWithStats(mask.astype(np.uint8), connectivity=8)
    pieces = []
    for k in range(1, count):
        x, y, width, height, _ = stats[k]
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
    if strip.share < LEAST_ONE_OPEN:
        return page
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
    return PageGround(page.paper, ground, page.slots & ~ground, page.gutter_px)


def _best_cut(piece: Piece, page: PageGround, scale: PieceScale) -> FrameLine | None:
    """The side of one panel that goes on as a gutter through the whole piece, with a panel's worth on both of its sides."""
    least = max(scale.least_side_px, 0.3 * min(piece.mask.shape))
    lines = find_frame_lines(piece.mask, scale.line_tolerance_px, least)
    body = _framed_body(piece.mask, lines, scale)
    shares = []
    for line in lines + _slot_lines(piece, page, scale, least):
        chord = chord_of(body, line.normal, line.offset)
        share = _gutter_share(piece, line, body, chord, page, scale) if chord is not None else 0.0
        if share > 0:
            shares.append((share, line))
    shares.sort(key=lambda pair: -pair[0])
    return next((line for _, line in shares if _parts_both_sides(piece, line, scale)), None)


def _body(mask: np.ndarray, scale: PieceScale) -> np.ndarray:
    """The hull (K, 2) of a piece without the strokes that run on past its corners."""
    filled = np.zeros(mask.shape, np.uint8)
    contours, _ = cv2.findContours(mask.astype(np.uint8), cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_SIMPLE)
    cv2.drawContours(filled, contours, -1, 1, -1)
    size = 2 * round(THINNER * scale.longer_px) + 1
    padded = cv2.copyMakeBorder(filled, size, size, size, size, cv2.BORDER_CONSTANT, value=0)
    opened = cv2.morphologyEx(padded, cv2.MORPH_OPEN, np.ones((size, size), np.uint8))[size:-size, size:-size]
    _, labels, stats, _ = cv2.connectedComponentsWithStats(filled & ~opened & 1, connectivity=8)
    is_kept = stats[:, 2:4].max(axis=1) > LONGEST_END * scale.longer_px  # a border whose panel lies open
    is_kept[0] = False
    body = is_kept[labels] | (opened > 0)
    return convex_hull(body if body.any() else mask)


def _framed_body(mask: np.ndarray, lines: list[FrameLine], scale: PieceScale) -> np.ndarray:
    """The body (K, 2) without the balloons that lie over its sides; a piece of several panels has inner sides, but shorter ones."""
    body = _body(mask, scale)
    sides = [line for line in lines if line.support >= LEAST_BODY_SIDE * float(np.ptp(body @ line.along))]
    return frame_polygon(body, sides, scale.line_tolerance_px)[0]


def _slot_lines(piece: Piece, page: PageGround, scale: PieceScale, least_px: float) -> list[FrameLine]:
    """The far sides of the slots in a piece: lines that may run in a gutter which crossing strokes have closed."""
    height, width = piece.mask.shape
    slots = piece.mask & page.slots[piece.top : piece.top + height, piece.left : piece.left + width]
    lines = find_frame_lines(slots, scale.line_tolerance_px, least_px) if slots.any() else []
    # A line's inside is the slot; the gutter is looked for beyond the line, so it is set back by what the look-out adds.
    return [FrameLine(line.normal, line.offset - 4, line.support, line.span) for line in lines]


def _gutter_share(piece: Piece, line: FrameLine, body: np.ndarray, chord: Chord, page: PageGround, scale: PieceScale) -> float:
    """How much of the chord speaks for a gutter beside the line; 0 where that is not enough.

    Ground that leads out of the piece at both ends is one. Where one end is bridged, both flanks have to be there: the inside of a
    frame that is open at a break has ground on one side of its lines too.
    """
    support = line.support / max(1.0, float(np.hypot(*(chord[1] - chord[0]))))
    open_ends = _open_ends(piece, line, body, page, scale)
    if open_ends == 0 and support < LEAST_SUPPORT:
        return 0.0
    if open_ends == 2 and support >= LEAST_SUPPORT:
        return support
    corner = np.array([piece.left, piece.top], float)
    ends = chord[0] + corner, chord[1] + corner
    offset = line.offset + float(corner @ line.normal) + 2
    strip = measure_strip(page, ends, line.normal, offset, scale.longer_px, scale.line_tolerance_px)
    if open_ends == 2:
        return strip.share if strip.share >= LEAST_BOTH_OPEN else 0.0
    is_wavy = strip.open_share < LEAST_ONE_OPEN and strip.wobble_px > WAVIEST * max(page.paper.shape)
    if is_wavy or strip.share < LEAST_ONE_OPEN:
        return 0.0
    is_ground = strip.open_share >= LEAST_CLOSED
    if open_ends == 1 and (is_ground or not strip.repeats):
        return strip.share
    flanks = strip.near - float(corner @ line.normal), strip.far - float(corner @ line.normal)
    slant = SLANT_OF_GROUND if strip.open_share >= LEAST_ONE_OPEN else SLANT_OF_SLOT
    crossed = count_crossed_ends(piece.mask, line.normal, flanks, 0.003 * scale.longer_px, slant)
    return strip.share if _is_closed_gutter(strip, support, crossed, page) else 0.0


def _is_closed_gutter(strip: GutterStrip, support: float, crossed_ends: int, page: PageGround) -> bool:
    """Whether a strip with bridged ends is a gutter: the more of its borders run on past each other, the less else it needs."""
    if crossed_ends == 4 or (crossed_ends >= 2 and strip.share >= LEAST_RULED):
        return True
    if strip.repeats and strip.open_share < LEAST_ONE_OPEN:
        return False
    if _is_like_others(strip, page) and strip.share >= (LEAST_ONE_CROSSED if crossed_ends else LEAST_RULED):
        return True
    if crossed_ends >= 2 and support >= LEAST_CLOSED:
        return True
    least = LEAST_ONE_OPEN if strip.open_share >= LEAST_ONE_OPEN else LEAST_CLOSED
    is_ground = strip.open_share >= LEAST_CLOSED and not strip.repeats
    return strip.share >= least and crossed_ends >= (1 if is_ground else 2)


def _is_like_others(strip: GutterStrip, page: PageGround) -> bool:
    """Whether a strip is as wide as the gutters of its page mostly are, between borders as straight as if ruled."""
    is_straight = strip.wobble_px <= MOST_WOBBLE * max(page.paper.shape)
    return is_straight and abs(strip.far - strip.near - page.gutter_px) <= SAME_WIDTH * page.gutter_px


def _parts_both_sides(piece: Piece, line: FrameLine, scale: PieceScale) -> bool:
    heights = _heights(piece, line)
    edge = scale.line_tolerance_px
    for side in (piece.mask & (heights <= edge), piece.mask & (heights > edge)):
        if side.sum() < 0.25 * scale.least_area_px or not _large_parts(side, 0, 0, scale):
            return False
        if np.ptp(heights[side]) < scale.least_side_px:
            return False
    return True


def _open_ends(piece: Piece, line: FrameLine, body: np.ndarray, page: PageGround, scale: PieceScale) -> int:
    """At how many ends of a line ground beside it leads out of the body: the inside of a frame is closed at both."""
    corner = np.array([piece.left, piece.top], float)
    open_ends = np.zeros(2, bool)
    for aside in range(1, round(2 * scale.line_tolerance_px) + 2):
        chord = chord_of(body, line.normal, line.offset + aside)
        if chord is None:
            continue
        length = float(np.hypot(*(chord[1] - chord[0])))
        run = (chord[1] - chord[0]) / max(length, 1e-9)
        steps = np.arange(-0.008 * scale.longer_px, 0.01 * length + 0.01 * scale.longer_px)
        ways = np.stack([corner + end + steps[:, None] * inward for end, inward in ((chord[0], run), (chord[1], -run))])
        open_ends |= _blocked_px(page.ground, ways) <= 1
    return int(open_ends.sum())


def _blocked_px(mask: np.ndarray, ways: np.ndarray) -> np.ndarray:
    """For each way of points, (M, N, 2), how many do not lie on `mask`; outside of the picture counts as on it."""
    x, y = np.floor(ways[..., 0]).astype(int), np.floor(ways[..., 1]).astype(int)
    beyond = (x < 0) | (y < 0) | (x >= mask.shape[1]) | (y >= mask.shape[0])
    on = mask[np.clip(y, 0, mask.shape[0] - 1), np.clip(x, 0, mask.shape[1] - 1)]
    return (~(on | beyond)).sum(axis=1)
