"""The eye level of one panel, as the perspective check stored it, back in px."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import asin, atan2, degrees, dist, hypot
from typing import Any

from board.figure_posts import PostView
from board.horizon_line import Line
from board.not_measured import NotMeasured
from board.page_space import PictureFrame, Point

NINETY_PERCENT = 1.645
# Where a panel's interval was not stored: half width at 90 %, as a share of the panel's width. Common practice, no source.
UNKNOWN_INTERVAL = 0.01
SURE = 0.5  # confidence from which a vanishing point counts as seen
# Clicked photographs carry 3-6 % into the focal length and with it into the upright point (Stanford CS231A, three vanishing
# points); a drawn page is looser.
SEEN_UPRIGHT_ERROR = 0.15  # 1 sigma of what the upright point changes, where its lines are seen; all of it, where they are not
# Of 625 figures drawn standing, seen through the perspective found in their panels, all but one lean by 3.3° at most; that one by
# 10°, its uprights being wrong (own measurement). Who leans further is bent, or the uprights are not where they were found.
MOST_LEAN_DEG = 6.0
UNKNOWN_LENS = 0.87  # focal length in widths of the panel where none is seen: 60°, as Storey's figure 14


@dataclass(frozen=True)
class PanelEyeLevel:
    """px of the whole page. `sigma_px` is one sigma of the eye level's height; `upright_error` of the upright point's effect."""

    horizon: Line
    upright: Line | None
    sigma_px: float
    upright_error: float
    focal_px: float

    def view(self, eye_height_m: float, *, shift_px: float = 0.0, with_upright: bool = True) -> PostView:
        """With the eye level moved down by `shift_px`, or with uprights taken as parallel."""
        a, b, c = self.horizon
        return PostView((a, b, c - shift_px), eye_height_m, self.upright if with_upright else None)

    def slope_at(self, point: Point) -> float:
        """Tangent of the angle by which the viewer looks up or down to a point."""
        a, b, c = self.horizon
        return abs(a * point[0] + b * point[1] + c) / self.focal_px

    def lean_deg(self, sole: Point, crown: Point) -> float:
        """Angle in the picture between the line from soles to crown and the upright over the soles."""
        a, b, _ = self.horizon
        up = (-a, -b)
        if self.upright is not None:
            x, y, w = self.upright
            step = x - w * sole[0], y - w * sole[1]
            up = step if step[0] * -a + step[1] * -b >= 0 else (-step[0], -step[1])
        drawn = crown[0] - sole[0], crown[1] - sole[1]
        return degrees(abs(atan2(drawn[0] * up[1] - drawn[1] * up[0], drawn[0] * up[0] + drawn[1] * up[1])))

    def leans(self, sole: Point, crown: Point) -> bool:
        """Too far to be measured by these uprights."""
        return self.lean_deg(sole, crown) > MOST_LEAN_DEG

    @property
    def tilt_deg(self) -> float:
        """How far the viewer looks up or down: eye level and upright point lie f tan(tilt) + f / tan(tilt) apart."""
        if self.upright is None:
            return 0.0
        a, b, c = self.horizon
        x, y, w = self.upright
        twice_focal, apart = 2 * self.focal_px * abs(w), abs(a * x + b * y + c * w)
        return degrees(asin(twice_focal / apart)) / 2 if twice_focal < apart else 45.0


def read_eye_level(perspective: Mapping[str, Any], panel: int | None, frame: PictureFrame) -> PanelEyeLevel | NotMeasured:
    """From the perspective check's `numbers`; NotMeasured where that panel has no eye level."""
    row = next((one for one in perspective.get("panels", ()) if one["panel"] == panel), None)
    if row is None or not row.get("eye_level"):
        return NotMeasured("No eye level is known in this panel.")
    left, right = (frame.to_pixels(point) for point in row["eye_level"])
    width_px = dist(left, right)
    if width_px == 0:
        return NotMeasured("No eye level is known in this panel.")
    upright, is_seen = _upright(row, frame)
    interval_px = row.get("eye_level_interval_px")
    sigma_px = (UNKNOWN_INTERVAL * width_px if interval_px is None else interval_px) / NINETY_PERCENT
    return PanelEyeLevel(_line_through(left, right), upright, sigma_px, SEEN_UPRIGHT_ERROR if is_seen else 1.0,
                         row.get("focal_px") or UNKNOWN_LENS * width_px)


def _upright(row: Mapping[str, Any], frame: PictureFrame) -> tuple[Line | None, bool]:
    """The upright point in px, None where uprights run parallel, and whether it was seen."""
    point = next((one for one in row.get("vanishing_points", ()) if one["role"] == "upright"), None)
    if point is None:
        return None, row.get("pitch_deg") == 0
    x, y, w = point["point"]
    return (x * frame.width_px, y * frame.height_px, w), point.get("confidence", 1.0) >= SURE


def _line_through(left: Point, right: Point) -> Line:
    """(a, b, c) with a² + b² = 1, positive below the line."""
    a, b = left[1] - right[1], right[0] - left[0]
    length = hypot(a, b) * (1 if b >= 0 else -1)
    return a / length, b / length, -(a * left[0] + b * left[1]) / length
