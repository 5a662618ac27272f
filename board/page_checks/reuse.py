"""Drawings used again: which earlier panel shows the same drawing. It informs, and scolds nobody."""

from math import exp, log
from typing import Any

import cv2
import numpy as np

from board.check_contract import CheckResult, DrawnBefore, Finding, Findings, PageUnderCheck, PanelUnderCheck
from board.not_measured import NotMeasured
from board.page_space import PictureFrame, bounds
from board.slip_words import drawn_elsewhere, listed, panel_called, turned
from board.vision.drawing_prints import FRAME_SHARE, DrawingPrint, KnownDrawing, known_again, print_of
from board.vision.laid_over import cut_out
from board.vision.lettered_areas import lettered_mask

# Where all of this holds, the two panels show one view, and are proposed to be the same. Shares of the panel's width.
ONE_VIEW = {"shift": 0.1, "scale": 0.1, "turn_deg": 6.0, "shape": 0.04, "share": 0.25}

TOLD_TURN_DEG = 2.0  # less is hardly seen beside the frame, and is the same-as check's to tell

# Of the panel: less than this is a part of it, and may be a thing that looks alike wherever it is drawn. A window ruled twice is
# the same figure at another size: own measurement on 56 bare rooms drawn apart, where 14 of 30 likenesses are 3 to 8 % of a panel.
SMALL_PART = 0.1


def check(page: PageUnderCheck) -> CheckResult:
    """Compares each panel's fingerprint with those of the panels that were there before it."""
    if not page.panels:
        return NotMeasured("The page shows no panel, so no drawing can be looked up.")
    lettered = lettered_mask(page.gray)
    before, prints, found, rows = list(page.drawn_before), {}, [], []
    for panel in sorted(page.panels, key=lambda one: one.order):
        view = ReusePanel(page, panel, lettered)
        prints[panel.id] = view.print
        known = None if panel.left_alone else view.surest(before)
        if known is not None:
            found.append(view.finding(*known))
            rows.append(view.numbers(*known))
        before.append(DrawnBefore(panel.id, panel.order, page.number or 0, view.print))
    return Findings(tuple(found), {}, {"panels": rows}, prints)


class ReusePanel:
    """One panel and its fingerprint."""

    def __init__(self, page: PageUnderCheck, panel: PanelUnderCheck, lettered: np.ndarray) -> None:
        self.page, self.panel = page, panel
        self.frame = PictureFrame(page.gray.shape[1], page.gray.shape[0])
        corners = np.array(self.frame.polygon_to_pixels(panel.polygon))
        self.corner, self.wide_px = corners.min(0), float(np.ptp(corners[:, 0]))
        self.gray, first = cut_out(page.gray, corners)
        self.left_out = (cut_out(lettered, corners)[0] > 0) | ~_inside(corners - first, self.gray.shape)
        self.print = print_of(self.gray, self.left_out)

    @property
    def mirrored(self) -> DrawingPrint:
        return print_of(np.ascontiguousarray(self.gray[:, ::-1]), self.left_out[:, ::-1])

    def surest(self, before: list[DrawnBefore]) -> tuple[DrawnBefore, KnownDrawing] | None:
        """What people said to be one drawing needs no telling."""
        others = [one for one in before if one.panel not in self.panel.one_drawing]
        known = known_again(self.print, self.mirrored, [one.print for one in others])
        return (others[known[0].index], known[0]) if known else None

    def finding(self, earlier: DrawnBefore, known: KnownDrawing) -> Finding:
        share = round(100 * self._share(known), 1)
        sure = round(min(0.99, 1 - exp(-known.cells / 4)) * min(1.0, self._share(known) / SMALL_PART), 3)
        return Finding("reuse-found", self.panel.id, share, share, 0.0, "% of the panel", sure, self._text(earlier, known),
                       self._geometry(earlier, known))

    def _text(self, earlier: DrawnBefore, known: KnownDrawing) -> str:
        share = self._share(known)
        what = "This drawing" if share >= SMALL_PART else f"A part of this drawing, {100 * share:.0f} % of the panel,"
        is_later = earlier.page_number > (self.page.number or earlier.page_number)
        text = f"{what} {drawn_elsewhere(_name(earlier, self.page), is_later)}{_how(known, self.print)}."
        if self._is_one_view(earlier, known):
            text += " If both are meant to show one view, say that they are the same: a slip between them is told from then on."
        elif share < SMALL_PART:
            text += " What is ruled or built the same, a window or a door, looks alike wherever it is drawn."
        else:
            text += " Used again, a drawing stays on model and saves time for what is new."
        return text

    def _geometry(self, earlier: DrawnBefore, known: KnownDrawing) -> dict[str, Any]:
        outline = self._to_page(_hull(known.at))
        x0, y0, x1, y1 = bounds([(x, y) for x, y in outline])
        mark = {"kind": "outline", "points": outline, "label": _name(earlier, self.page)}
        other = {"panel": earlier.panel, "called": _name(earlier, self.page)}
        return {"region": {"polygon": [[x0, y0], [x1, y0], [x1, y1], [x0, y1]]}, "marks": [mark], "other": other}

    def numbers(self, earlier: DrawnBefore, known: KnownDrawing) -> dict[str, Any]:
        shift, scale, turn_deg = known.against_frame(self.print.high)
        return {
            "panel": self.panel.id, "earlier": earlier.panel, "page_number": earlier.page_number, "order": earlier.order,
            "share": round(self._share(known), 4), "places": known.cells, "is_mirrored": known.is_mirrored,
            "scale": round(scale, 4), "turn_deg": round(turn_deg, 2), "shift": round(shift, 4),
            "is_one_view": self._is_one_view(earlier, known),
        }

    def _is_one_view(self, earlier: DrawnBefore, known: KnownDrawing) -> bool:
        shift, scale, turn_deg = known.against_frame(self.print.high)
        return (not known.is_mirrored and shift < ONE_VIEW["shift"] and abs(scale - 1) < ONE_VIEW["scale"]
                and abs(turn_deg) < ONE_VIEW["turn_deg"] and abs(log(self.print.high / earlier.print.high)) < ONE_VIEW["shape"]
                and self._share(known) > ONE_VIEW["share"])

    def _share(self, known: KnownDrawing) -> float:
        """Of the panel's box, what the points that are known again span."""
        return float(cv2.contourArea(_hull(known.at))) / self.print.high

    def _to_page(self, points: np.ndarray) -> list[list[float]]:
        return [[min(1.0, max(0.0, float(v))) for v in self.frame.to_page(point)] for point in points * self.wide_px + self.corner]


def _inside(corners: np.ndarray, shape: tuple[int, ...]) -> np.ndarray:
    """bool (H, W): within the outline and off its frame. The box of a slanted panel shows its neighbours too."""
    drawn = np.zeros(shape, np.uint8)
    cv2.fillPoly(drawn, [np.round(corners).astype(np.int32)], 1)
    rim = 2 * round(FRAME_SHARE * shape[1]) + 1
    return cv2.erode(drawn, np.ones((rim, rim), np.uint8), borderValue=0) > 0


def _hull(at: np.ndarray) -> np.ndarray:
    return cv2.convexHull(np.ascontiguousarray(at, np.float32)).reshape(-1, 2)


def _name(earlier: DrawnBefore, page: PageUnderCheck) -> str:
    is_here = earlier.page_number == (page.number or 0)
    return panel_called(earlier.order, None if is_here else earlier.page_number, earlier.is_spread)


def _how(known: KnownDrawing, later: DrawingPrint) -> str:
    _, scale, turn_deg = known.against_frame(later.high)
    ways = ["mirrored"] if known.is_mirrored else []
    if abs(scale - 1) > 0.05:
        ways.append(f"at {scale:.0%} of its size against the panel".replace("%", " %"))
    if abs(turn_deg) > TOLD_TURN_DEG:
        ways.append(turned(turn_deg))
    return f", here {listed(ways)}" if ways else ""
