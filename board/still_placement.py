"""Where a still lies under the panel that was drawn from it: scaled, turned and shifted, as two points of each tell.

Points in px, y down, as complex numbers x + iy: multiplying by one turns and scales. A homogeneous point keeps its w, so that a
vanishing point at infinity is turned and not shifted. Source: common geometry of the plane, from memory.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot
from typing import Any

from board.not_measured import NotMeasured
from board.page_space import PictureFrame

Place = Sequence[float]
LEAST_APART = 0.02  # of the picture's diagonal: two clicks nearer to each other tell no direction; common practice, no source


@dataclass(frozen=True)
class StillToPage:
    """Both frames in px: a point z of the still lies at `turn` * z + `shift` on the page."""

    turn: complex
    shift: complex
    still: PictureFrame
    page: PictureFrame

    @property
    def scale(self) -> float:
        return abs(self.turn)

    def moved(self, point: Sequence[float]) -> list[float]:
        """A homogeneous point (x, y, w) of the still's own coordinates, in page coordinates."""
        x, y = self.still.to_pixels(point)
        at = self.turn * complex(x, y) + self.shift * point[2]
        return [*self.page.to_page((at.real, at.imag)), point[2]]

    def numbers(self, numbers: dict[str, Any]) -> dict[str, Any]:
        """What the still's perspective is on the page. A still's focal length is in px, its eye level two points; `centre` is its
        middle, which its camera looks at square on, wherever the panel crops it."""
        interval, focal = numbers.get("eye_level_interval_px"), numbers.get("focal_px")
        return {
            "eye_level": [self.moved([*point, 1.0])[:2] for point in numbers["eye_level"]],
            "eye_level_interval_px": interval and interval * self.scale, "focal_px": focal and focal * self.scale,
            "centre": self.moved([0.5, 0.5, 1.0])[:2], "pitch_deg": numbers.get("pitch_deg"),
            "vanishing_points": [{**one, "point": self.moved(one["point"])} for one in numbers.get("vanishing_points", [])],
        }


def still_to_page(in_still: Sequence[Place], on_page: Sequence[Place], still: PictureFrame,
                  page: PictureFrame) -> StillToPage | NotMeasured:
    """`in_still` and `on_page`: the same two points of the set, each in its own picture's coordinates."""
    for picture, points, name in ((still, in_still, "still"), (page, on_page, "panel")):
        if abs(_between(picture, points)) < LEAST_APART * hypot(picture.width_px, picture.height_px):
            return NotMeasured(f"The two points in the {name} lie too near to each other: choose two that stand apart.")
    turn = _between(page, on_page) / _between(still, in_still)
    shift = complex(*page.to_pixels(on_page[0])) - turn * complex(*still.to_pixels(in_still[0]))
    return StillToPage(turn, shift, still, page)


def _between(picture: PictureFrame, points: Sequence[Place]) -> complex:
    return complex(*picture.to_pixels(points[1])) - complex(*picture.to_pixels(points[0]))
