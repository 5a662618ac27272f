"""Perspective: for each panel the eye level and the vanishing points, and the edges and eye levels that disagree with them."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

import numpy as np

from board.check_contract import CheckResult, Finding, Findings, PageUnderCheck, PanelUnderCheck
from board.not_measured import NotMeasured
from board.page_space import PictureFrame
from board.vision.given_points import given_from_points
from board.vision.lettered_areas import find_lettered_areas
from board.vision.line_segments import find_segments
from board.vision.panel_segments import segments_of_panel
from board.vision.perspective import FEWEST_SEGMENTS, Perspective, solve_perspective
from board.vision.perspective_faults import SplitEyeLevel, StrayEdges, find_faults, height_at
from board.vision.stroke_centre import stroke_depths

DEFAULT_TOLERANCES = {"stray_edge_deg": 4.0, "eye_level_split": 0.06}
WIDENED_AT_THUMBNAIL = 1.75
SUPPORT_DRAWN = 8
SET_BY_HAND = "(Measured against the perspective that was set by hand.)"
WIDEST_ROLL_DEG = 15.0  # rain, a rail or a row of limbs makes a tilt more often than an artist does
WIDEST_INTERVAL = 0.15  # of the panel's height: half width of an eye level that is still worth telling


def check(page: PageUnderCheck) -> CheckResult:
    """Measures every panel that is not left alone; a panel whose lines show too little is told with its reason."""
    if not page.panels:
        return NotMeasured("No panels are known on this page.")
    height, width = page.gray.shape
    frame = PictureFrame(width, height)
    segments, lettered = find_segments(page.gray), find_lettered_areas(page.gray)
    found: list[Finding] = []
    not_measured: dict[int, NotMeasured] = {}
    numbers = []
    for panel in page.panels:
        if panel.left_alone:
            not_measured[panel.id] = NotMeasured("This panel is left alone by this check.")
            continue
        view = PanelView(panel, frame, segments, lettered)
        perspective = view.solve()
        numbers.append(view.numbers(perspective))
        if isinstance(perspective, NotMeasured):
            not_measured[panel.id] = perspective
        else:
            found += view.findings(perspective, page)
    return Findings(tuple(found), not_measured, {"panels": numbers})


class PanelView:
    """One panel cut out of the page: its own pixels start at its bounding box's corner."""

    def __init__(self, panel: PanelUnderCheck, frame: PictureFrame, page_segments: np.ndarray, lettered: np.ndarray) -> None:
        self.panel, self.frame = panel, frame
        polygon = np.array(frame.polygon_to_pixels(panel.polygon))
        self.corner = polygon.min(0)
        width, height = polygon.max(0) - self.corner
        self.size = float(width), float(height)
        self.diagonal = float(np.hypot(*self.size))
        page_size = round(frame.width_px), round(frame.height_px)
        self.segments = segments_of_panel(page_segments, polygon, lettered, page_size) - np.tile(self.corner, 2)

    def solve(self) -> Perspective | NotMeasured:
        if (said := self.panel.given) is not None:
            eye_level, edges = said.eye_level and self.to_px(said.eye_level), [self.to_px(edge) for edge in said.parallel_edges]
            return solve_perspective(self.segments, self.size, given_from_points(eye_level, self.to_px(said.points), edges))
        if len(self.segments) < FEWEST_SEGMENTS:
            return NotMeasured(f"{len(self.segments)} segments found; {FEWEST_SEGMENTS} are needed")
        perspective = solve_perspective(self.segments, self.size)
        if isinstance(perspective, NotMeasured):
            return perspective
        if abs(perspective.roll_deg) > WIDEST_ROLL_DEG:
            return NotMeasured(f"The lines would have the viewer's head tilted by {abs(perspective.roll_deg):.0f}°, which is "
                               "rarely meant. If it is, set the eye level by hand.")
        if perspective.horizon_interval <= WIDEST_INTERVAL * self.size[1]:
            return perspective
        return NotMeasured("The lines show an eye level, but not where: it could lie anywhere within "
                           f"{2 * perspective.horizon_interval / self.size[1]:.0%} of the panel's height.")

    def to_px(self, points: Sequence[Sequence[float]]) -> np.ndarray:
        return np.reshape(self.frame.polygon_to_pixels(points), (-1, 2)) - self.corner

    def to_page(self, points: np.ndarray) -> list[list[float]]:
        return [list(map(float, self.frame.to_page(point))) for point in np.asarray(points).reshape(-1, 2) + self.corner]

    def point_to_page(self, point: np.ndarray) -> list[float]:
        """A homogeneous point, x y w, in page coordinates."""
        moved = point + point[2] * np.array([*self.corner, 0.0])
        scaled = moved / [self.frame.width_px, self.frame.height_px, 1.0]
        return [float(v) for v in scaled / np.linalg.norm(scaled)]

    def eye_level(self, horizon: np.ndarray) -> list[list[float]] | None:
        """Where the eye level crosses the panel's sides; None where it stands upright."""
        if abs(horizon[1]) < 0.2:
            return None
        return self.to_page(np.array([[x, height_at(horizon, x)] for x in (0.0, self.size[0])]))

    def numbers(self, perspective: Perspective | NotMeasured) -> Mapping[str, Any]:
        if isinstance(perspective, NotMeasured):
            return {"panel": self.panel.id, "eye_level": None, "vanishing_points": [], "focal_px": None, "pitch_deg": None,
                    "roll_deg": None, "eye_level_interval_px": None}
        points = [{"point": self.point_to_page(p.point), "role": p.role, "confidence": round(p.confidence, 3)}
                  for p in perspective.vanishing_points]
        return {"panel": self.panel.id, "eye_level": self.eye_level(perspective.horizon), "vanishing_points": points,
                "focal_px": perspective.focal_px, "pitch_deg": perspective.pitch_deg, "roll_deg": perspective.roll_deg,
                "eye_level_interval_px": perspective.horizon_interval, **({"set_by_hand": True} if self.panel.given else {})}

    def findings(self, perspective: Perspective, page: PageUnderCheck) -> list[Finding]:
        tolerances = {**DEFAULT_TOLERANCES, **page.tolerances}
        widened = WIDENED_AT_THUMBNAIL if page.stage == "thumbnail" else 1.0
        stray_deg, split = tolerances["stray_edge_deg"] * widened, tolerances["eye_level_split"] * widened
        # Pixel centres at whole numbers there.
        depths = stroke_depths(self.segments + np.tile(self.corner, 2) - 0.5, page.gray)
        faults = find_faults(self.segments, perspective, self.size, stray_deg=stray_deg, split_px=split * self.size[1],
                             depths=depths)
        found = [*(self.stray_edges(stray, perspective, stray_deg) for stray in faults.strays),
                 *(self.split_eye_level(other, perspective, split) for other in faults.splits)]
        return [replace(one, text=f"{one.text} {SET_BY_HAND}") for one in found] if self.panel.given else found

    def stray_edges(self, stray: StrayEdges, perspective: Perspective, tolerance_deg: float) -> Finding:
        lines = self.segments[stray.segments]
        marks = [mark("edge", self.to_page(line), "" if k else f"{stray.miss_deg:.1f}°") for k, line in enumerate(lines)]
        marks += [mark("true-edge", self.to_page(line)) for line in stray.true_edges]
        marks += [*self.support(stray.point.members), *self.meeting_point(stray.point.point),
                  *self.eye_level_mark(perspective.horizon)]
        finding = "upright-lean" if stray.point.role == "upright" else "stray-edge"
        return Finding(finding, self.panel.id, round(stray.miss_deg, 2), 0.0, round(tolerance_deg, 2), "°",
                       round(stray.confidence, 3), stray_text(stray), {"region": self.region(lines), "marks": marks})

    def split_eye_level(self, split: SplitEyeLevel, perspective: Perspective, tolerance: float) -> Finding:
        apart = split.apart_px / self.size[1]
        lines = self.segments[split.segments]
        other = self.eye_level(split.other_horizon)
        marks = [*self.eye_level_mark(perspective.horizon),
                 *([mark("other-eye-level", other, f"{abs(apart):.0%}")] if other else []),
                 *(mark("edge", self.to_page(line)) for line in lines[:SUPPORT_DRAWN])]
        text = (f"{len(lines)} edges here agree on an eye level {abs(apart):.0%} of the panel's height "
                f"{'below' if apart > 0 else 'above'} the one that the rest of the panel runs to. What they belong to seems to "
                "tip, or to stand on another floor. Draw it again to the panel's own eye level.")
        return Finding("eye-level-split", self.panel.id, round(abs(apart), 4), 0.0, round(tolerance, 4), "panel height",
                       round(split.confidence, 3), text, {"region": self.region(lines), "marks": marks})

    def support(self, members: np.ndarray) -> list[dict[str, Any]]:
        """The longest lines come first, as segments are sorted by length."""
        return [mark("support", self.to_page(self.segments[row])) for row in np.sort(members)[:SUPPORT_DRAWN]]

    def meeting_point(self, point: np.ndarray) -> list[dict[str, Any]]:
        if abs(point[2]) * 50 * self.diagonal < np.hypot(*point[:2]):
            return []
        return [mark("meeting-point", self.to_page(point[:2] / point[2]))]

    def eye_level_mark(self, horizon: np.ndarray) -> list[dict[str, Any]]:
        line = self.eye_level(horizon)
        return [mark("eye-level", line)] if line else []

    def region(self, lines: np.ndarray) -> dict[str, Any]:
        """The box around lines, at least a few pixels wide, inside the picture."""
        points = np.clip(np.array(self.to_page(lines)), 0, 1)
        low, high = points.min(0), points.max(0)
        pad = 0.01
        (x0, y0), (x1, y1) = np.clip(low - pad, 0, 1), np.clip(high + pad, 0, 1)
        return {"polygon": [[float(x), float(y)] for x, y in ((x0, y0), (x1, y0), (x1, y1), (x0, y1))]}


def stray_text(stray: StrayEdges) -> str:
    if stray.point.role == "upright":
        return (f"This upright leans by {stray.miss_deg:.1f}° against the {len(stray.point.members)} others of the panel, while "
                "the rest of its face stands straight. Turn it about its middle until it stands with them.")
    if stray.turn_deg is None:
        return (f"This edge misses the point that {len(stray.point.members)} others run to by {stray.miss_deg:.1f}°. "
                "What it belongs to looks bent, or its floor slopes. Turn the edge about its middle until it meets the point.")
    return (f"The {len(stray.segments)} edges of this thing agree with each other but stand turned by "
            f"{abs(stray.turn_deg):.0f}° against the rest, and miss its vanishing points by up to {stray.miss_deg:.1f}°: "
            "it looks skewed rather than placed askew. "
            "Draw it square with the rest, or turn it so far that it is plainly meant.")


def mark(kind: str, points: Sequence[Sequence[float]], label: str = "") -> dict[str, Any]:
    drawn = {"kind": kind, "points": [list(map(float, point)) for point in points]}
    return {**drawn, "label": label} if label else drawn
