"""Parts a frame where panels stand without a gutter: along strokes that are ruled like its own border, from side to side."""

import cv2
import numpy as np

from board.vision.convex_polygons import chord_of, clip_by_line, polygon_area
from board.vision.frame_sides import bleed_off, sides_of
from board.vision.page_piece import PieceScale
from board.vision.ruled_strokes import RuledStroke, measure_stroke

# From trials on pages and drawn layouts, no source.
LEAST_FRAME = 0.5  # of the picture: a smaller frame has gutters beside it, and so would its parts
LEAST_SHARE = 0.85  # of the way from side to side that the stroke covers, where no balloon lies over it
MOST_HIDDEN, LITTLE_HIDDEN = 0.4, 0.1  # of the way, under balloons
AT_END, LEAST_AT_END = (0.003, 0.018), 0.75  # of the longer side: between there, from each side, so much of it has to be drawn
LEAST_SIDE = 0.08  # of the longer side of the page: both parts have to be as wide as this
MOST_TILT = 0.03  # of a side against the picture's own axes
STRAYS = 1.5  # times as far as the border: so far may a stroke like it stray from straight
RULED_TWICE_PX = 0.15  # two panels' borders lie over one another and are less straight together
MOST_PALER = 12  # grey values against the border
TWICE_PALER = 4  # two over one another are hardly paler than one
LEAST_WIDTH = 0.8  # of the border's
AT_EDGE_PX = 3  # so near to the picture's edge a side bleeds off
NEAR_DARK = 30  # grey values: the grain of pencil on paper
LEAST_DARK = 0.7  # of a row that is dark near it: worth a measurement


def part_at_borders(gray: np.ndarray, polygon: np.ndarray, scale: PieceScale, balloons: np.ndarray) -> list[np.ndarray]:
    """The panels, polygons (K, 2) in px of `gray` (uint8 (H, W)), that share borders within a frame; itself where none do.

    balloons: bool (H, W), what lies over the drawing.
    """
    border = border_of(gray, polygon, scale) if polygon_area(polygon) >= LEAST_FRAME * gray.size else None
    if border is None:
        return [polygon]
    # Beams, tables and eye levels are level too, and end at a panel's sides; few panels without a gutter stand on another.
    tiers = _parted(gray, polygon, 1, border, scale, balloons)
    done = [part for tier in tiers for part in _parted(gray, tier, 0, border, scale, balloons)]
    width = float(np.ptp(polygon[:, 0]))
    # Boards, beams and the edge of a floor part a lone panel into tiers too; where borders are shared, they mostly are upright too.
    return done if any(np.ptp(part[:, 0]) < LEAST_SHARE * width for part in done) else [polygon]


def border_of(gray: np.ndarray, polygon: np.ndarray, scale: PieceScale) -> RuledStroke | None:
    """The stroke that the sides of an upright frame mostly are drawn with; None where it has none, bleeds off or is slanted."""
    ends, within = sides_of(polygon, scale)
    runs = ends[:, 1] - ends[:, 0]
    lengths = np.hypot(*runs.T)
    is_upright = np.abs(runs).min(axis=1) <= MOST_TILT * np.maximum(lengths, 1e-9)
    is_long = lengths >= 0.5 * np.ptp(polygon, axis=0).min()
    bleeds = bleed_off(ends, gray, AT_EDGE_PX)
    sides = [stroke_along(gray, line, scale) for line in within[is_upright & is_long & ~bleeds]]
    if len(sides) < 4 or np.median([side.share for side in sides]) < LEAST_SHARE:
        return None
    share, wobble, value, width = np.median([(s.share, s.wobble_px, s.value, s.width_px) for s in sides], axis=0)
    return RuledStroke(float(share), float(wobble), float(value), float(width))


def stroke_along(
    gray: np.ndarray, ends: np.ndarray, scale: PieceScale, balloons: np.ndarray | None = None, least_share: float = 0.0
) -> RuledStroke:
    search_px, flank_px = max(2, round(0.003 * scale.longer_px)), max(4, round(0.008 * scale.longer_px))
    return measure_stroke(gray, ends, search_px, flank_px, balloons, least_share)


def is_ruled_like(stroke: RuledStroke, border: RuledStroke, strays: float = STRAYS, more_px: float = 0.1) -> bool:
    """Whether a stroke is as straight, dark and thick as a border, so far as a hand can; it may stray `strays` times as far, and
    `more_px` further."""
    is_as_dark = stroke.value <= border.value + MOST_PALER and stroke.width_px >= LEAST_WIDTH * border.width_px
    return is_as_dark and stroke.wobble_px <= strays * border.wobble_px + more_px


def _parted(
    gray: np.ndarray, polygon: np.ndarray, axis: int, border: RuledStroke, scale: PieceScale, balloons: np.ndarray
) -> list[np.ndarray]:
    """The parts of a frame between its borders from side to side, along rows (axis 1) or columns (0); itself where there are none.

    All are measured on the whole frame: cut from it first, a part may end a pixel further, which can turn the scale for the next.
    """
    normal, parts = np.eye(2)[axis], [polygon]
    found = [(_share_of_border(gray, polygon, normal, offset, border, scale, balloons), offset)
             for offset in _dark_rows(gray, polygon, axis, border, scale, balloons)]
    offsets: list[float] = []
    for share, offset in sorted(found, reverse=True):
        if share and all(abs(offset - other) >= LEAST_SIDE * scale.longer_px for other in offsets):
            offsets.append(offset)
    for offset in sorted(offsets):
        parts[-1:] = clip_by_line(parts[-1], normal, offset), clip_by_line(parts[-1], -normal, -offset)
    return parts


def _share_of_border(
    gray: np.ndarray, polygon: np.ndarray, normal: np.ndarray, offset: float, border: RuledStroke, scale: PieceScale,
    balloons: np.ndarray,
) -> float:
    """Of a line from side to side of a frame, how much a stroke like its border covers; 0 where that is no border."""
    chord = chord_of(polygon, normal, offset)
    if chord is None:
        return 0.0
    line = np.array(chord)
    stroke = stroke_along(gray, line, scale, balloons)
    is_border = (
        stroke.share >= LEAST_SHARE
        and stroke.hidden <= MOST_HIDDEN
        and stroke.value <= border.value + TWICE_PALER
        and is_ruled_like(_in_full(stroke, gray, line, scale), border, more_px=RULED_TWICE_PX)
        and _reaches_sides(gray, line, scale, balloons)
    )
    return stroke.share if is_border else 0.0


def _in_full(stroke: RuledStroke, gray: np.ndarray, chord: np.ndarray, scale: PieceScale) -> RuledStroke:
    """The stroke with what lies under balloons, where that is much: hatching that is taken for lettering has not to hide how a long
    stroke strays, but a balloon over the end of one does not count."""
    return stroke if stroke.hidden <= LITTLE_HIDDEN else stroke_along(gray, chord, scale)


def _reaches_sides(gray: np.ndarray, chord: np.ndarray, scale: PieceScale, balloons: np.ndarray) -> bool:
    """Whether a stroke is there at both ends of a chord (2, 2) too: the corner of a house ends on the ground, not at a border."""
    run = (chord[1] - chord[0]) / np.hypot(*(chord[1] - chord[0]))
    near, far = (share * scale.longer_px * run for share in AT_END)
    ends = np.array([[chord[0] + near, chord[0] + far], [chord[1] - far, chord[1] - near]])
    strokes = [stroke_along(gray, end, scale, balloons) for end in ends]
    return all(stroke.share >= LEAST_AT_END or stroke.hidden > MOST_HIDDEN for stroke in strokes)


def _dark_rows(
    gray: np.ndarray, polygon: np.ndarray, axis: int, border: RuledStroke, scale: PieceScale, balloons: np.ndarray
) -> list[float]:
    """Where a row (axis 1) or column (axis 0) of a frame's box is dark nearly all its way: lines, and both ends of tones."""
    (left, top), (right, bottom) = np.round(polygon.min(axis=0)).astype(int), np.round(polygon.max(axis=0)).astype(int)
    box = np.s_[max(0, top) : bottom, max(0, left) : right]
    dark = ((gray[box] <= border.value + NEAR_DARK) | balloons[box]).astype(np.uint8)
    dark = dark if axis == 1 else np.ascontiguousarray(dark.T)
    least = round(LEAST_SIDE * scale.longer_px)
    if min(dark.shape) < 2 * least:
        return []
    size = 2 * round(0.002 * scale.longer_px) + 1
    share = cv2.dilate(dark, np.ones((size, 1), np.uint8)).mean(axis=1)
    share[:least] = share[len(share) - least :] = 0
    start, half = float(max(0, (left, top)[axis])), size / 2
    rows = []
    for a, b in runs_of(share >= LEAST_DARK):
        # A tone has its borders at its ends.
        rows += [start + (a + b) / 2] if b - a <= 3 * size else [start + a + half, start + b - half]
    return rows


def runs_of(flags: np.ndarray) -> list[tuple[int, int]]:
    """From and to of the runs of True in `flags` (bool (N,))."""
    steps = np.diff(np.concatenate([[False], flags, [False]]).astype(np.int8))
    return list(zip(np.flatnonzero(steps == 1).tolist(), np.flatnonzero(steps == -1).tolist(), strict=True))
