"""The floor of each panel: from the numbers of the perspective check to a view that things can be drawn in."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import hypot
from typing import Any

from board.figure_posts import PostView, height_at
from board.ground_view import GroundView, Vector, cross, ground_view
from board.not_measured import NotMeasured
from board.page_space import PictureFrame, Polygon, bounds, contains
from board.perspective_grid import clip_to_polygon, perspective_grid
from board.worker.underlay.layer import Layer
from board.worker.underlay.lettering import write_upwards

STEP_M = 1.0
STEP_EYES = 0.5  # of the eye's height, where nobody said how high that is


@dataclass(frozen=True)
class Floor:
    polygon: Polygon  # px of the page
    view: GroundView
    step: float

    @property
    def post_view(self) -> PostView:
        return PostView(self.view.horizon, self.view.eye_height, self.view.upright)

    def holds(self, point: Sequence[float]) -> bool:
        return contains(self.polygon, point)

    def draw_on(self, layers: Mapping[str, Layer], includes: Sequence[str], letters_px: float) -> None:
        """`layers` by what of `includes` stands on each."""
        grid = perspective_grid(self.view, self.polygon, self.step, has_walls="walls" in includes)
        if isinstance(grid, NotMeasured):
            return
        for pencil in grid.walls:
            layers["walls"].draw("wall", *pencil)
        for pencil in grid.floor if "grid" in includes else ():
            layers["grid"].draw("floor", *pencil)
        if "eye-level" in includes:
            layers["eye-level"].draw("eye-level", *grid.eye_level)
        told_on = next((layers[name] for name in ("grid", "walls", "eye-level") if name in includes), None)
        if told_on:
            self._say_on(told_on, letters_px)

    def _say_on(self, layer: Layer, letters_px: float) -> None:
        """Inside the panel at its lower edge, however narrow it is there."""
        _, _, _, bottom = bounds(self.polygon)
        (left, _), (right, _) = next(clip_to_polygon((0.0, 1.0, letters_px / 2 - bottom), self.polygon), (self.polygon[0],) * 2)
        left, right = min(left, right) + letters_px / 4, max(left, right) - letters_px / 4
        write_upwards(layer, (left, bottom), self.says(), "measure", room_px=right - left, letters_px=letters_px)

    def says(self) -> str:
        """What the squares stand for, written under the grid."""
        if self.view.is_measured:
            told = f"Squares of {self.step:g} m, eye level {self.view.eye_height:.2f} m over the floor"
        else:
            told = f"Squares of {self.step:g} eye heights"
        return told + (", their depth as seen under 60° across" if self.view.focal_is_assumed else "")


def floor_of(panel: dict[str, Any], frame: PictureFrame, options: dict[str, Any]) -> Floor | NotMeasured:
    """`panel`: {"id", "polygon", "numbers", "reason", "eye_height_m"}, in page coordinates."""
    numbers, polygon = panel["numbers"], frame.polygon_to_pixels(panel["polygon"])
    if not numbers or not numbers.get("eye_level"):
        return NotMeasured(panel["reason"] or "The perspective of this panel is not measured.")
    view = view_of(numbers, polygon, frame, None)
    if isinstance(view, NotMeasured):
        return view
    eye_m = _eye_height_m(view, polygon, frame, panel, options)
    measured = view_of(numbers, polygon, frame, eye_m)
    if isinstance(measured, NotMeasured):
        return measured
    return Floor(polygon, measured, options.get("step") or (STEP_EYES if eye_m is None else STEP_M))


def view_of(numbers: dict[str, Any], polygon: Polygon, frame: PictureFrame, eye_m: float | None) -> GroundView | NotMeasured:
    left, top, right, bottom = bounds(polygon)
    start, end = (frame.to_pixels(point) for point in numbers["eye_level"])
    points: dict[str, list[Vector]] = {"level": [], "upright": []}
    for one in numbers["vanishing_points"]:
        x, y, w = one["point"]
        points[one["role"]].append((x * frame.width_px, y * frame.height_px, w))
    return ground_view(
        cross((*start, 1.0), (*end, 1.0)), points["level"], next(iter(points["upright"]), None),
        middle=((left + right) / 2, (top + bottom) / 2), diagonal_px=hypot(right - left, bottom - top),
        focal_px=numbers.get("focal_px"), eye_height_m=eye_m,
        centre=frame.to_pixels(numbers["centre"]) if numbers.get("centre") else None,
    )


def _eye_height_m(view: GroundView, polygon: Polygon, frame: PictureFrame, panel: dict[str, Any],
                  options: dict[str, Any]) -> float | None:
    """As said; else from something of known height in this panel, which the eye level cuts; else from the panel's still."""
    if options.get("eye_height_m"):
        return float(options["eye_height_m"])
    known = options.get("known_height")
    if known and contains(polygon, frame.to_pixels(known["foot"])):
        view_in_eyes = PostView(view.horizon, 1.0, view.upright)
        in_eyes = height_at(frame.to_pixels(known["foot"]), frame.to_pixels(known["top"]), view_in_eyes)
        if not isinstance(in_eyes, NotMeasured) and in_eyes > 0:
            return float(known["height_m"] / in_eyes)
    return panel.get("eye_height_m")
