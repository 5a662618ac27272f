"""What speaks for a gutter along a line through a piece of the page."""

import numpy as np

from board.vision.convex_polygons import chord_of
from board.vision.frame_lines import FrameLine
from board.vision.gutter_strip import EVEN, GutterStrip, count_crossed_ends, measure_strip
from board.vision.page_ground import PageGround
from board.vision.page_piece import Piece, PieceScale

# From trials on pages and drawn layouts, no source.
LEAST_SUPPORT = 0.45  # of a cut has to run along the side of a panel; or else
LEAST_BOTH_OPEN = 0.3  # of a cut has to lie between two flanks where both ends of the gutter are open
LEAST_ONE_OPEN = 0.6  # where one is, or none but the gutter is ground
LEAST_CLOSED = 0.85  # where strokes that stick out close it
LEAST_RULED = 0.95  # with borders so whole on both sides, what lies beside them may be as narrow as the gutter
LEAST_LIKE = 0.9  # where two or more run on past each other and it is as wide as the page's other gutters
LEAST_ONE_CROSSED = 0.8  # where it is as wide as the page's other gutters and one border runs on past the other
SAME_WIDTH = 0.15  # so far may a gutter be wider or narrower than the page's others,
NEAR_WIDTH = 0.0015  # or by so much of the longer side: borders are as uneven as that
LEANS = 0.02  # between this and a real slant lie the beams and boards of a room, not what is ruled to part panels
NARROWER = 0.6  # than the page's other gutters is no slanted one
NARROWEST_SLANTED = 0.008  # of the longer side, unless its borders run on past each other
PAST_END, FURTHER = 0.02, 0.2  # of the longer side: from there, and for so long, a gutter is looked for beyond a piece
MOST_WOBBLE = 0.0011  # of the longer side: borders are ruled, what is drawn free of hand strays further
WAVIEST = 0.0016  # so far may borders stray where the gutter is no ground
SLANT_OF_GROUND = 0.25  # against square, of the side that such a gutter may end on where it is ground
SLANT_OF_SLOT = 0.06  # where it is not

Chord = tuple[np.ndarray, np.ndarray]


def gutter_share(piece: Piece, line: FrameLine, body: np.ndarray, chord: Chord, page: PageGround, scale: PieceScale) -> float:
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
    is_like = strip.open_share >= LEAST_ONE_OPEN or _has_width_of_others(strip, page)
    if open_ends == 1 and (is_ground or (is_like and not strip.repeats)):
        return strip.share
    flanks = strip.near - float(corner @ line.normal), strip.far - float(corner @ line.normal)
    slant = SLANT_OF_GROUND if strip.open_share >= LEAST_ONE_OPEN else SLANT_OF_SLOT
    crossed = count_crossed_ends(piece.mask, line.normal, flanks, 0.003 * scale.longer_px, slant)
    is_slanted = abs(line.normal).min() > EVEN
    # Loose borders leave less between them than they were ruled for; boards lie mostly wider apart.
    is_narrowed = crossed >= 2 and support >= LEAST_RULED and strip.far - strip.near < page.gutter_px
    if (is_slanted and _is_hatching(strip, crossed, page, scale)) or not (is_like or crossed == 4 or is_narrowed):
        return 0.0
    if crossed < 2 and strip.open_share < LEAST_ONE_OPEN and LEANS < abs(line.normal).min() <= EVEN:
        return 0.0
    if is_closed_gutter(strip, support, crossed, page):
        return strip.share
    is_ruled = strip.share >= LEAST_CLOSED and _is_like_others(strip, page)
    return strip.share if is_ruled and _goes_on(strip, ends, line.normal, page, scale) else 0.0


def _is_hatching(strip: GutterStrip, crossed_ends: int, page: PageGround, scale: PieceScale) -> bool:
    """Whether a slanted strip is narrower than a gutter would be: what lies between two strokes of a tone."""
    width = strip.far - strip.near
    return width < NARROWER * page.gutter_px or (crossed_ends == 0 and width < NARROWEST_SLANTED * scale.longer_px)


def is_closed_gutter(strip: GutterStrip, support: float, crossed_ends: int, page: PageGround) -> bool:
    """Whether a strip with bridged ends is a gutter: the more of its borders run on past each other, the less else it needs."""
    is_like = _is_like_others(strip, page)
    if crossed_ends == 4 or (crossed_ends >= 2 and strip.share >= (LEAST_LIKE if is_like else LEAST_RULED)):
        return True
    if is_like and crossed_ends and support >= LEAST_CLOSED and strip.open_share >= LEAST_ONE_OPEN:
        return True
    if strip.repeats and strip.open_share < LEAST_ONE_OPEN:
        return False
    if is_like and strip.share >= (LEAST_ONE_CROSSED if crossed_ends else LEAST_RULED):
        return True
    if crossed_ends >= 2 and support >= LEAST_CLOSED:
        return True
    least = LEAST_ONE_OPEN if strip.open_share >= LEAST_ONE_OPEN else LEAST_CLOSED
    is_ground = strip.open_share >= LEAST_CLOSED and not strip.repeats
    return strip.share >= least and crossed_ends >= (1 if is_ground else 2)


def _is_like_others(strip: GutterStrip, page: PageGround) -> bool:
    """Whether a strip is as wide as the gutters of its page mostly are, between borders as straight as if ruled."""
    is_straight = strip.wobble_px <= MOST_WOBBLE * max(page.paper.shape)
    return is_straight and page.gutter_px > 0 and _has_width_of_others(strip, page)


def _has_width_of_others(strip: GutterStrip, page: PageGround) -> bool:
    """Whether a strip is as wide as the gutters of its page mostly are, so far as it shows any."""
    strays = max(SAME_WIDTH * page.gutter_px, NEAR_WIDTH * max(page.paper.shape))
    return page.gutter_px == 0 or abs(strip.far - strip.near - page.gutter_px) <= strays


def _goes_on(strip: GutterStrip, ends: Chord, normal: np.ndarray, page: PageGround, scale: PieceScale) -> bool:
    """Whether the strip, beyond the piece that it runs through, is a gutter of ground: panels stand in tiers and columns."""
    run = (ends[1] - ends[0]) / max(1e-9, float(np.hypot(*(ends[1] - ends[0]))))
    middle = (strip.near + strip.far) / 2
    limit = np.array(page.ground.shape[::-1], float)
    for end, way in ((ends[1], run), (ends[0], -run)):
        start = end + (PAST_END * scale.longer_px) * way
        start = start + (middle - float(start @ normal)) * normal
        beyond = np.clip(start + (FURTHER * scale.longer_px) * way, 0, limit - 1)
        if np.hypot(*(beyond - start)) < FURTHER / 2 * scale.longer_px or (beyond - start) @ way < 0:
            continue
        on = measure_strip(page, (start, beyond), normal, middle, scale.longer_px, scale.line_tolerance_px)
        apart = max(abs(on.near - strip.near), abs(on.far - strip.far))
        if on.open_share >= LEAST_CLOSED and apart <= 2 * scale.line_tolerance_px:
            return True
    return False


def _open_ends(piece: Piece, line: FrameLine, body: np.ndarray, page: PageGround, scale: PieceScale) -> int:
    """At how many ends of a line ground beside it leads out of the body: the inside of a frame is closed at both."""
    corner = np.array([piece.left, piece.top], float)
    open_ends = np.zeros(2, bool)
    for aside in range(1, round(2 * scale.line_tolerance_px) + 2):
        if open_ends.all():
            break
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
