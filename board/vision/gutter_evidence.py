"""How likely a gutter runs along a line through a piece of the page."""

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from board.vision.convex_polygons import chord_of
from board.vision.frame_lines import FrameLine
from board.vision.gutter_place import LEAST_CLOSED, Chord, GutterPlace, goes_on, ways_on
from board.vision.gutter_signs import (
    OFF,
    PALEST,
    STRAIGHTEST,
    THICKEST,
    THIN,
    WAVIEST,
    WAVIEST_FLANK,
    WEIGHTS,
    GutterSigns,
    log_odds,
)
from board.vision.gutter_strip import EVEN, MOST_HIDDEN, count_crossed_ends, measure_strip, on_mask
from board.vision.page_ground import PageGround
from board.vision.page_piece import Piece, PieceScale
from board.vision.ruled_strokes import RuledStroke
from board.vision.strip_ends import is_shut_off

# From trials on pages and drawn layouts, no source.
LEAST_SUPPORT = 0.45  # of a cut has to run along the side of a panel; or else
LEAST_BARE = 0.3  # of a cut has to have the page's paper beside it where both ends of the gutter are open
LEAST_STRIP = 0.3  # of a cut has to lie between two flanks, and
LEAST_LINE = 0.4  # of it has to run along a side where an end is closed
LEAST_ODDS = 0.5  # logarithm: what is wrongly cut is seldom put together again
LEANS = 0.02  # between this and a real slant lie the beams and boards of a room, not what is ruled to part panels
SLANT_OF_SIDE = 0.25  # against square, of the side that a gutter may end on
STICKS_OUT = 0.002  # of the longer side: from there a stroke runs on past another
WAVY_UNKNOWN = 2.0
STEP = 12  # grey values
LEAST_FLANKED = 0.55  # of the way of a gutter that has framed panels on both sides; or else
BARE = 0.95  # of what lies between its flanks is paper
PARALLEL = 0.98  # cosine of the angle between two lines of which one at most is a gutter
LEAST_STRAY_PX = 0.2  # what is drawn exactly strays by less, which tells nothing


def possible_gutter(piece: Piece, line: FrameLine, body: np.ndarray, chord: Chord, page: PageGround,
                    scale: PieceScale) -> "PossibleGutter | None":
    """What may be a gutter beside the line; None where none can be.

    Ground that leads out of the piece at both ends is one. Where an end is bridged, both flanks have to be there: the inside of a
    frame that is open at a break has ground on one side of its lines too.
    """
    support = line.support / max(1.0, float(np.hypot(*(chord[1] - chord[0]))))
    open_ends = _open_ends(piece, line, body, page, scale)
    if open_ends < 2 and support < LEAST_LINE:
        return None
    corner = np.array([piece.left, piece.top], float)
    ends = chord[0] + corner, chord[1] + corner
    if open_ends == 2 and bare_share(ends, line.normal, page, scale) < LEAST_BARE:  # the lower edges of balloons
        return None
    if open_ends == 2 and support >= LEAST_SUPPORT:
        return PossibleGutter(support)
    offset = line.offset + float(corner @ line.normal) + 2
    strip = measure_strip(page, ends, line.normal, offset, scale.longer_px, scale.line_tolerance_px)
    if strip.share < LEAST_STRIP:
        return None
    if open_ends == 2:
        return PossibleGutter(strip.share)
    place = GutterPlace(piece, line.normal, ends, strip, page, scale)
    return PossibleGutter(strip.share, place, _signs_at_best(place, support, open_ends))


def bare_share(ends: Chord, normal: np.ndarray, page: PageGround, scale: PieceScale) -> float:
    """Of what is seen of the way between two points, how much has bare paper of the page beside it, where `normal` points to."""
    count = max(2, round(float(np.hypot(*(ends[1] - ends[0]))) / 4))
    along = ends[0] + np.linspace(0, 1, count)[:, None] * (ends[1] - ends[0])
    ways = along[:, None] + np.arange(2, round(2 * scale.line_tolerance_px) + 3)[:, None] * normal
    is_bare = (on_mask(page.ground, ways) | on_mask(page.slots, ways)).any(axis=1)
    is_hidden = on_mask(page.balloons, ways).any(axis=1)
    seen = 1 - is_hidden.mean() if is_hidden.mean() <= MOST_HIDDEN else 1.0
    return float((is_bare & ~is_hidden).mean() / seen)


@dataclass(frozen=True)
class PossibleGutter:
    """`share` of the way speaks for it. Where an end is bridged it is weighed at its `place`, by `signs` as good as they can be."""

    share: float
    place: GutterPlace | None = None
    signs: GutterSigns | None = None

    @cached_property
    def is_likely(self) -> bool:
        """Takes long to tell: to be asked of those that matter."""
        return self.place is None or self.signs is None or _is_likely(self.place, self.signs)

    @property
    def width_px(self) -> float | None:
        """None where it has not to be weighed."""
        return self.place.strip.far - self.place.strip.near if self.place else None

    @cached_property
    def odds(self) -> float:
        """Natural logarithm of the odds that it is one; takes longest to tell."""
        if self.place is None or self.signs is None:
            return np.inf
        return log_odds(all_signs(self.place, self.signs))

    def is_rival_of(self, other: "PossibleGutter") -> bool:
        """Whether the two run along each other with no room for a panel between them, and are not the same strip."""
        a, b = self.place, other.place
        if a is None or b is None or abs(float(a.normal @ b.normal)) < PARALLEL:
            return False
        middle = (b.strip.near + b.strip.far) / 2
        ends = [end + ((a.strip.near + a.strip.far) / 2 - end @ a.normal) * a.normal for end in a.ends]
        apart = max(abs(float(end @ b.normal) - middle) for end in ends)
        return (b.strip.far - b.strip.near) / 2 < apart < a.scale.least_side_px


def all_signs(place: GutterPlace, signs: GutterSigns) -> GutterSigns:
    """With all that takes longer to measure."""
    signs = _with_ends(_with_borders(signs, place), place)
    return replace(signs, goes_on=1.0) if goes_on(place) else _with_sides(signs, place)


def _is_likely(place: GutterPlace, signs: GutterSigns) -> bool:
    # What takes longer to measure is left where it cannot turn the scale.
    least = LEAST_ODDS - (WEIGHTS.goes_on if ways_on(place) else 0.0)
    for measure in (_with_near_border, _with_borders, _with_ends):
        if log_odds(signs) <= least:
            return False
        signs = measure(signs, place)
        if signs.is_thin and signs.repeats:  # boards: so is none of 1 300 drawn gutters
            return False
    is_wide = bool(signs.is_off) and place.strip.far - place.strip.near > place.page.gutter_px
    if is_wide and not (signs.crossed_ends == 4 or signs.leads_out):  # as boards mostly are
        return False
    odds = log_odds(signs)
    return (odds > LEAST_ODDS and log_odds(_with_sides(signs, place)) > LEAST_ODDS) or (odds > least and goes_on(place))


def _signs_at_best(place: GutterPlace, support: float, open_ends: int) -> GutterSigns:
    """The signs of a strip between borders that are as like the page's as can be, and run on past all panels."""
    strip, page, slant = place.strip, place.page, abs(place.normal).min()
    off = _off_width(place)
    return GutterSigns(
        support=min(1.0, support),
        strip=strip.share,
        ground=strip.open_share,
        bare=strip.bare_share,
        lesser_stroke=1.0,
        greater_stroke=1.0,
        wavier_stroke=STRAIGHTEST,
        straighter_stroke=STRAIGHTEST,
        wavy_flank=min(strip.wobble_px / _strays_px(page.pen), WAVIEST_FLANK) if page.pen else WAVY_UNKNOWN,
        thinner_stroke=THICKEST,
        is_thin=0.0,
        paler_stroke=PALEST[0],
        off_width=min(OFF, off),
        is_off=off > OFF,
        has_others=page.gutter_px > 0,
        repeats=strip.repeats,
        crossed_ends=4,
        leads_out=open_ends == 1 and strip.open_share >= LEAST_CLOSED,
        leans=LEANS < slant <= EVEN,
        slants=slant > EVEN,
    )


def _off_width(place: GutterPlace) -> float:
    """How much wider or narrower than the page's other gutters, in thousandths of the longer side."""
    strip, page = place.strip, place.page
    wider_px = strip.far - strip.near - page.gutter_px
    # What an open panel draws hardly reaches the gutter all along it.
    is_open_beside = wider_px > 0 and strip.share < LEAST_FLANKED and strip.bare_share >= BARE
    if not page.gutter_px or is_open_beside:
        return 0.0
    return 1000 * abs(wider_px) / place.scale.longer_px


def _with_ends(signs: GutterSigns, place: GutterPlace) -> GutterSigns:
    at = float(np.array([place.piece.left, place.piece.top], float) @ place.normal)
    flanks, least_px = (place.strip.near - at, place.strip.far - at), STICKS_OUT * place.scale.longer_px
    return replace(signs, crossed_ends=count_crossed_ends(place.piece.mask, place.normal, flanks, least_px, SLANT_OF_SIDE))


def _with_sides(signs: GutterSigns, place: GutterPlace) -> GutterSigns:
    """With whether it is shut off; of a gutter that goes on beyond the piece that tells nothing."""
    if place.page.pen is None:
        return signs
    flanks = place.strip.near, place.strip.far
    shut_off = is_shut_off(place.page.gray, place.ends, place.normal, flanks, place.page.pen.value, place.scale.longer_px)
    return replace(signs, shut_off=shut_off)


def _with_near_border(signs: GutterSigns, place: GutterPlace) -> GutterSigns:
    """As if the stroke along the far flank were as good as can be: most lines of a drawing have a border along neither."""
    return signs if place.page.pen is None else _with_strokes(signs, place, [place.near_stroke])


def _with_borders(signs: GutterSigns, place: GutterPlace) -> GutterSigns:
    """With the strokes along both flanks against the page's pen; what is painted up to its gutters has no strokes to tell by."""
    if place.page.pen is None:
        share = place.strip.share
        return replace(signs, lesser_stroke=share, greater_stroke=share, wavier_stroke=1.0, straighter_stroke=1.0,
                       thinner_stroke=0.0, paler_stroke=0.0)
    return _with_strokes(signs, place, [place.near_stroke, place.far_stroke])


def _with_strokes(signs: GutterSigns, place: GutterPlace, strokes: list[RuledStroke]) -> GutterSigns:
    """With what the strokes tell; a second one that is not given is as good as can be."""
    pen, given = place.page.pen, len(strokes) == 2
    assert pen is not None
    waves = [float(np.clip(stroke.wobble_px / _strays_px(pen), STRAIGHTEST, WAVIEST)) for stroke in strokes]
    paler = max((stroke.value - pen.value) / STEP for stroke in strokes)
    thinner = min(float(np.log(max(stroke.width_px, 0.1) / pen.width_px)) for stroke in strokes)
    return replace(
        signs,
        lesser_stroke=min(stroke.share for stroke in strokes),
        greater_stroke=max(stroke.share for stroke in strokes) if given else 1.0,
        wavier_stroke=max(waves),
        straighter_stroke=min(waves) if given else STRAIGHTEST,
        thinner_stroke=max(THIN, thinner),
        is_thin=thinner < THIN,
        paler_stroke=float(np.clip(paler, *PALEST)),
    )


def _strays_px(pen: RuledStroke) -> float:
    return max(LEAST_STRAY_PX, pen.wobble_px)


def _open_ends(piece: Piece, line: FrameLine, body: np.ndarray, page: PageGround, scale: PieceScale) -> int:
    """At how many ends of a line ground beside it leads out of the body: the inside of a frame is closed at both."""
    corner = np.array([piece.left, piece.top], float)
    asides = range(1, round(2 * scale.line_tolerance_px) + 2)
    chords = [chord_of(body, line.normal, line.offset + aside) for aside in asides]
    ends = np.array([chord for chord in chords if chord is not None]).reshape(-1, 2, 2)
    runs = ends[:, 1] - ends[:, 0]
    lengths = np.hypot(*runs.T)
    runs = runs / np.maximum(lengths, 1e-9)[:, None]
    furthest = 0.01 * lengths + 0.01 * scale.longer_px
    steps = np.arange(-0.008 * scale.longer_px, furthest.max(initial=0.0))
    ways = (corner + ends)[:, :, None] + steps[:, None] * np.stack([runs, -runs], axis=1)[:, :, None]
    is_blocked = ~on_mask(page.ground, ways) & (steps < furthest[:, None])[:, None]
    return int((is_blocked.sum(axis=2) <= 1).any(axis=0).sum())
