"""Measures the signs of an inset that may be drawn straight onto its host."""

from dataclasses import dataclass, field, replace
from functools import cached_property

import cv2
import numpy as np

from board.vision.corner_lines import count_met_corners
from board.vision.inset_signs import FULL, LEAST_WAVY, MOST_PALER, MOST_THICKER, MOST_WAVY, InsetSigns
from board.vision.page_piece import PieceScale
from board.vision.ruled_strokes import RuledStroke
from board.vision.shared_borders import stroke_along

# From trials on pages and drawn layouts, no source.
LEAST_COVERED = 0.8  # of one side of it, where no balloon lies over it
LEAST_ALL_ROUND = 0.93
MOST_HIDDEN = 0.6  # of one side of it, under a balloon
LEAST_WIDTH = 0.55  # of the host's border, of the thinnest of its sides
LEAST_DRAWN = 0.05  # of it
SHARP = 40  # of the Laplacian: a line and no grain
EDGE = 0.008  # of the longer side: so near to its sides nothing is looked for within it
LEAST_STRAY_PX = 0.2  # what is drawn exactly strays by less, which tells nothing
PAST_CORNER = 0.006, 0.022  # of the longer side: there a side runs on past a corner if it does
LEAST_PAST = 0.7  # of that way
CLEAR_OF_CORNER = 0.012  # of the longer side
BESIDE = 0.006  # of the longer side: there a stroke has surely ended
STEP = 12  # grey values
NEAR_DARK, NEAR_PX = 60, 5  # grey values above the border's that are drawing, and how far along a line may lean across it


@dataclass(frozen=True)
class InsetPage:
    """What has been measured of a page, `gray` (uint8 (H, W)); `balloons` bool (H, W), what lies over the drawing."""

    gray: np.ndarray
    scale: PieceScale
    balloons: np.ndarray
    sides: dict[bytes, RuledStroke] = field(default_factory=dict)

    def side(self, ends: np.ndarray) -> RuledStroke:
        """The stroke between two points (2, 2): rectangles by the dozen have a side in common."""
        key = ends.tobytes()
        if key not in self.sides:
            self.sides[key] = stroke_along(self.gray, ends, self.scale, self.balloons, LEAST_COVERED)
        return self.sides[key]

    @cached_property
    def drawn_before(self) -> np.ndarray:
        """How many px above and left of each (int32 (H + 1, W + 1)) are drawn on."""
        return cv2.integral((np.abs(cv2.Laplacian(self.gray, cv2.CV_16S, ksize=3)) > SHARP).astype(np.uint8))

    def drawn_share(self, corners: np.ndarray) -> float:
        """Of what is within the sides of a rectangle (4, 2), on how much something is drawn."""
        edge, limit = round(EDGE * self.scale.longer_px), np.array(self.gray.shape[::-1])
        (left, top), (right, bottom) = np.clip([np.round(corners[0]) + edge, np.round(corners[2]) - edge], 0, limit).astype(int)
        before = self.drawn_before
        drawn = int(before[bottom, right] - before[top, right] - before[bottom, left] + before[top, left])
        return drawn / max(1, (right - left) * (bottom - top))


def signs_of(page: InsetPage, corners: np.ndarray, border: RuledStroke) -> InsetSigns | None:
    """The signs of an upright rectangle (4, 2) in a panel that has that `border`, as if no side of it ran on and no line met its
    corners; None where one is lacking, or another pen has drawn them."""
    drawn = page.drawn_share(corners)
    ends = np.stack([corners, np.roll(corners, -1, axis=0)], axis=1)
    strokes = _strokes(page, ends, border) if drawn >= LEAST_DRAWN else None
    if strokes is None:
        return None
    thick = float(np.median([np.log(one.width_px / border.width_px) for one in strokes]))
    if abs(thick) > MOST_THICKER:
        return None
    stray_px = max(LEAST_STRAY_PX, border.wobble_px)
    waves = sorted(float(np.clip(one.wobble_px / stray_px, LEAST_WAVY, MOST_WAVY)) for one in strokes)
    return InsetSigns(
        covered=float(np.mean([one.share for one in strokes])),
        wavy=(waves[1] + waves[2]) / 2,
        waviest=waves[3],
        pale=float(np.mean([np.clip((one.value - border.value) / STEP, *MOST_PALER) for one in strokes])),
        drawn=min(FULL, drawn),
        runs_on=0,
        corners_met=0,
        goes_through=max(_goes_through(page, line, border) for line in ends),
    )


def with_ends(signs: InsetSigns, page: InsetPage, corners: np.ndarray, value: float) -> InsetSigns:
    """The signs with what runs past its corners and into them, which takes longest to tell. value: the border's grey value."""
    ends = np.stack([corners, np.roll(corners, -1, axis=0)], axis=1)
    met = count_met_corners(page.gray, corners, value, page.scale.longer_px)
    return replace(signs, runs_on=sum(_runs_on(page, line) for line in ends), corners_met=met)


def _strokes(page: InsetPage, ends: np.ndarray, border: RuledStroke) -> list[RuledStroke] | None:
    """The strokes along the four sides (4, 2, 2); None where one is not there."""
    strokes: list[RuledStroke] = []
    for line in sorted(ends, key=lambda line: line.tobytes() not in page.sides):  # most are told by one that was measured before
        one = page.side(line)
        strokes.append(one)
        at_best = (sum(stroke.share for stroke in strokes) + 4 - len(strokes)) / 4
        is_thin = one.width_px < LEAST_WIDTH * border.width_px
        if one.share < LEAST_COVERED or one.hidden > MOST_HIDDEN or is_thin or at_best < LEAST_ALL_ROUND:
            return None
    return strokes


def _runs_on(page: InsetPage, line: np.ndarray) -> int:
    """At how many of its two ends a side (2, 2) runs on."""
    run = (line[1] - line[0]) / np.hypot(*(line[1] - line[0]))
    near, far = (share * page.scale.longer_px * run for share in PAST_CORNER)
    beyond = np.array([line[0] - far, line[0] - near]), np.array([line[1] + near, line[1] + far])
    return sum(stroke_along(page.gray, part, page.scale, page.balloons).share > LEAST_PAST for part in beyond)


def _goes_through(page: InsetPage, line: np.ndarray, border: RuledStroke) -> float:
    """The correlation of what is drawn along both flanks of a side (2, 2): at an inset's border the host's lines end."""
    length = float(np.hypot(*(line[1] - line[0])))
    run = (line[1] - line[0]) / length
    aside = BESIDE * page.scale.longer_px * np.array([-run[1], run[0]])
    clear = CLEAR_OF_CORNER * page.scale.longer_px  # the ends of the other sides run through there
    along = line[0] + np.arange(clear, max(length - clear, clear + 2))[:, None] * run
    flanks = []
    for points in (along + aside, along - aside):
        x, y = (np.clip(points[:, k].astype(int), 0, page.gray.shape[1 - k] - 1) for k in (0, 1))
        is_dark = (page.gray[y, x] < border.value + NEAR_DARK).astype(np.uint8)
        flanks.append(cv2.dilate(is_dark[:, None], np.ones((NEAR_PX, 1), np.uint8))[:, 0])
    return float(np.corrcoef(*flanks)[0, 1]) if all(0 < flank.mean() < 1 for flank in flanks) else 0.0
