"""Findings of perspective: what is told and drawn where an edge, a thing or an eye level contradicts its panel."""

from collections.abc import Sequence
from typing import Any

import numpy as np

from board.check_contract import Finding
from board.panel_view import PanelView
from board.vision.perspective import Perspective
from board.vision.perspective_faults import SplitEyeLevel, StrayEdges
from board.vision.vision_cone import HALF_CONE_DEG, OutsideCone

SUPPORT_DRAWN = 8
CIRCLE_POINTS = 48


def stray_edges(view: PanelView, stray: StrayEdges, perspective: Perspective, tolerance_deg: float) -> Finding:
    lines = view.segments[stray.segments]
    marks = [mark("edge", view.to_page(line), "" if k else f"{stray.miss_deg:.1f}°") for k, line in enumerate(lines)]
    marks += [mark("true-edge", view.to_page(line)) for line in stray.true_edges]
    # The longest lines come first, as segments are sorted by length.
    marks += [mark("support", view.to_page(view.segments[row])) for row in np.sort(stray.point.members)[:SUPPORT_DRAWN]]
    marks += [*meeting_point(view, stray.point.point), *eye_level_mark(view, perspective.horizon)]
    finding = "upright-lean" if stray.point.role == "upright" else "stray-edge"
    return Finding(finding, view.panel.id, round(stray.miss_deg, 2), 0.0, round(tolerance_deg, 2), "°",
                   round(stray.confidence, 3), stray_text(stray), {"region": view.region(lines), "marks": marks})


def stray_text(stray: StrayEdges) -> str:
    if stray.point.role == "upright":
        return (f"This upright leans by {stray.miss_deg:.1f}° against the {len(stray.point.members)} others of the panel, and "
                "what lies about it stands straight. Turn it about its middle until it stands with them.")
    if stray.turn_deg is None:
        return (f"This edge misses the point that {len(stray.point.members)} others run to by {stray.miss_deg:.1f}°. "
                "What it belongs to looks bent, or its floor slopes. Turn the edge about its middle until it meets the point.")
    return (f"The {len(stray.segments)} edges of this thing agree with each other but stand turned by "
            f"{abs(stray.turn_deg):.0f}° against the rest, and miss its vanishing points by up to {stray.miss_deg:.1f}°: "
            "it looks skewed rather than placed askew. "
            "Draw it square with the rest, or turn it so far that it is plainly meant.")


def split_eye_level(view: PanelView, split: SplitEyeLevel, perspective: Perspective, tolerance: float) -> Finding:
    apart = split.apart_px / view.size[1]
    lines = view.segments[split.segments]
    other = view.eye_level(split.other_horizon)
    marks = [*eye_level_mark(view, perspective.horizon),
             *([mark("other-eye-level", other, f"{abs(apart):.0%}")] if other else []),
             *(mark("edge", view.to_page(line)) for line in lines[:SUPPORT_DRAWN])]
    text = (f"{len(lines)} edges here agree on an eye level {abs(apart):.0%} of the panel's height "
            f"{'below' if apart > 0 else 'above'} the one that the rest of the panel runs to. What they belong to seems to "
            "tip, or to stand on another floor. Draw it again to the panel's own eye level.")
    return Finding("eye-level-split", view.panel.id, round(abs(apart), 4), 0.0, round(tolerance, 4), "panel height",
                   round(split.confidence, 3), text, {"region": view.region(lines), "marks": marks})


def outside_cone(view: PanelView, outside: OutsideCone, perspective: Perspective, tolerance_deg: float) -> Finding:
    lines = view.segments[outside.segments]
    marks = [mark("edge", view.to_page(line), "" if k else f"{outside.angle_deg:.0f}°") for k, line in enumerate(lines)]
    marks += [mark("limit", circle_in_panel(view, outside)), mark("meeting-point", view.to_page(outside.centre)),
              *eye_level_mark(view, perspective.horizon)]
    text = (f"What stands here lies up to {outside.angle_deg:.0f}° from the middle of the view, outside the 60° cone that "
            f"a reader takes in at once: a ball would be drawn {outside.stretch:.2f} times as long as wide there, and corners "
            f"turn sharp. Step back: with the eye {outside.distance_px / view.size[0]:.1f} panel widths away instead of "
            f"{(perspective.focal_px or 0) / view.size[0]:.1f} it comes in. (The middle of the panel is taken for the point looked "
            "at. The 60° are common practice; where the stretch is meant, let it stand.)")
    return Finding("outside-cone", view.panel.id, round(outside.angle_deg, 1), HALF_CONE_DEG, round(tolerance_deg, 2), "°",
                   round(outside.confidence, 3), text, {"region": view.region(lines), "marks": marks})


def circle_in_panel(view: PanelView, outside: OutsideCone) -> list[list[float]]:
    """The cone's circle as an outline, held to the panel."""
    turn = np.linspace(0, 2 * np.pi, CIRCLE_POINTS, endpoint=False)
    circle = outside.centre + outside.cone_radius_px * np.stack([np.cos(turn), np.sin(turn)], axis=1)
    return view.to_page(np.clip(circle, 0, view.size))


def meeting_point(view: PanelView, point: np.ndarray) -> list[dict[str, Any]]:
    if abs(point[2]) * 50 * view.diagonal < np.hypot(*point[:2]):
        return []
    return [mark("meeting-point", view.to_page(point[:2] / point[2]))]


def eye_level_mark(view: PanelView, horizon: np.ndarray) -> list[dict[str, Any]]:
    line = view.eye_level(horizon)
    return [mark("eye-level", line)] if line else []


def mark(kind: str, points: Sequence[Sequence[float]], label: str = "") -> dict[str, Any]:
    drawn = {"kind": kind, "points": [list(map(float, point)) for point in points]}
    return {**drawn, "label": label} if label else drawn
