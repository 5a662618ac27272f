"""Perspective: for each panel the eye level and the vanishing points, and the edges and eye levels that disagree with them."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

import numpy as np

from board.check_contract import CheckResult, Finding, Findings, PageUnderCheck
from board.not_measured import NotMeasured
from board.page_space import PictureFrame
from board.panel_view import PanelView
from board.perspective_evidence import outside_cone, split_eye_level, stray_edges
from board.vision.given_points import given_from_points
from board.vision.lettered_areas import find_lettered_areas
from board.vision.line_segments import find_lines
from board.vision.paper_rules import without_rules
from board.vision.perspective import FEWEST_SEGMENTS, Perspective, solve_perspective
from board.vision.perspective_faults import are_drawn, find_faults
from board.vision.stroke_depths import stroke_depths
from board.vision.sure_points import LEAST_EVIDENCE, runs_one_way
from board.vision.vision_cone import find_outside_cone

DEFAULT_TOLERANCES = {"stray_edge_deg": 4.0, "eye_level_split": 0.06, "outside_cone_deg": 10.0}
WIDENED_AT_THUMBNAIL = 1.75
SET_BY_HAND = "(Measured against the perspective that was set by hand.)"
WIDEST_ROLL_DEG = 15.0  # rain, a rail or a row of limbs makes a tilt more often than an artist does
WIDEST_INTERVAL = 0.15  # of the panel's height: half width of an eye level that is still worth telling
# With less than LEAST_EVIDENCE the eye level was right within 2 % of the height in 8 of 32 drawn thumbnails (own measurement). Of
# lines that stray less than RULED_DEG from their points few are enough.
RULED_DEG = 0.3

EDGES_KEPT = 16  # of each family


def check(page: PageUnderCheck) -> CheckResult:
    """Measures every panel that is not left alone; a panel whose lines show too little is told with its reason."""
    if not page.panels:
        return NotMeasured("No panels are known on this page.")
    height, width = page.gray.shape
    frame = PictureFrame(width, height)
    # The rules of squared paper are level and upright lines without end: with them two legs told an eye level.
    lines = find_lines(without_rules(page.gray), is_toned=all(panel.is_rendered for panel in page.panels))
    lettered = find_lettered_areas(page.gray)
    found: list[Finding] = []
    not_measured: dict[int, NotMeasured] = {}
    numbers = []
    for panel in page.panels:
        if panel.left_alone:
            not_measured[panel.id] = NotMeasured("This panel is left alone by this check.")
            continue
        view = PanelView(panel, frame, lines, lettered)
        perspective = solve(view)
        numbers.append(numbers_of(view, perspective))
        if isinstance(perspective, NotMeasured):
            not_measured[panel.id] = perspective
        else:
            found += findings_of(view, perspective, page)
    return Findings(tuple(found), not_measured, {"panels": numbers})


def solve(view: PanelView) -> Perspective | NotMeasured:
    if (said := view.panel.given) is not None:
        eye_level, edges = said.eye_level and view.to_px(said.eye_level), [view.to_px(edge) for edge in said.parallel_edges]
        return solve_perspective(view.segments, view.size, given_from_points(eye_level, view.to_px(said.points), edges))
    if len(view.segments) < FEWEST_SEGMENTS:
        return NotMeasured(f"{len(view.segments)} segments found; {FEWEST_SEGMENTS} are needed")
    perspective = solve_perspective(view.segments, view.size, is_ruled=view.panel.is_rendered)
    if isinstance(perspective, NotMeasured):
        return perspective
    if perspective.evidence < LEAST_EVIDENCE and perspective.noise_deg > RULED_DEG:
        return NotMeasured("The lines run together a little more than lines drawn at random would, and too little to tell an eye "
                           "level by. If there is one, set it by hand.")
    if runs_one_way(perspective, view.segments):
        return NotMeasured("Nearly all lines that run together here run to one point, or one way, as speed lines and rain do: that "
                           "shows no eye level. If there is one, set it by hand.")
    if abs(perspective.roll_deg) > WIDEST_ROLL_DEG:
        return NotMeasured(f"The lines would have the viewer's head tilted by {abs(perspective.roll_deg):.0f}°, which is "
                           "rarely meant. If it is, set the eye level by hand.")
    if perspective.horizon_interval <= WIDEST_INTERVAL * view.size[1]:
        return perspective
    share = 2 * perspective.horizon_interval / view.size[1]
    where = f"within {100 * share:.0f} % of the panel's height" if share < 1 else "in the panel, or beyond it"
    return NotMeasured(f"The lines show an eye level, but not where: it could lie anywhere {where}.")


def numbers_of(view: PanelView, perspective: Perspective | NotMeasured) -> Mapping[str, Any]:
    if isinstance(perspective, NotMeasured):
        return {"panel": view.panel.id, "eye_level": None, "vanishing_points": [], "focal_px": None, "pitch_deg": None,
                "roll_deg": None, "eye_level_interval_px": None, "edges": []}
    points = [{"point": view.point_to_page(p.point), "role": p.role, "confidence": round(p.confidence, 3)}
              for p in perspective.vanishing_points]
    return {"panel": view.panel.id, "eye_level": view.eye_level(perspective.horizon), "vanishing_points": points,
            "focal_px": perspective.focal_px, "pitch_deg": perspective.pitch_deg, "roll_deg": perspective.roll_deg,
            "eye_level_interval_px": perspective.horizon_interval, "edges": edges_of(view, perspective),
            **({"set_by_hand": True} if view.panel.given else {})}


def edges_of(view: PanelView, perspective: Perspective) -> list[dict[str, Any]]:
    """The longest edges that run to each point: they are laid over the page, one family told from the other."""
    longest = [np.sort(point.members)[:EDGES_KEPT] for point in perspective.vanishing_points]  # segments are sorted by length
    return [{"role": point.role, "lines": [np.round(view.to_page(view.segments[row]), 4).tolist() for row in rows]}
            for point, rows in zip(perspective.vanishing_points, longest, strict=True)]


def findings_of(view: PanelView, perspective: Perspective, page: PageUnderCheck) -> list[Finding]:
    tolerances = {**DEFAULT_TOLERANCES, **page.tolerances}
    widened = WIDENED_AT_THUMBNAIL if page.stage == "thumbnail" else 1.0
    stray_deg, split = tolerances["stray_edge_deg"] * widened, tolerances["eye_level_split"] * widened
    # Pixel centres at whole numbers there.
    depths = stroke_depths(view.segments + np.tile(view.corner, 2) - 0.5, page.gray)
    drawn = are_drawn(view.segments, view.diagonal, depths)
    faults = find_faults(view.segments, perspective, view.size, stray_deg=stray_deg, split_px=split * view.size[1],
                         drawn=drawn, depths=depths, doubt_deg=view.lines.doubt_deg)
    found = [*(stray_edges(view, stray, perspective, stray_deg) for stray in faults.strays),
             *(split_eye_level(view, other, perspective, split) for other in faults.splits)]
    cone_deg = tolerances["outside_cone_deg"]
    if outside := find_outside_cone(view.segments, np.flatnonzero(drawn), perspective, view.size, tolerance_deg=cone_deg):
        found.append(outside_cone(view, outside, perspective, cone_deg))
    return [_by_hand(one) for one in found] if view.panel.given else found


def _by_hand(one: Finding) -> Finding:
    return replace(one, text=f"{one.text} {SET_BY_HAND}", geometry={**one.geometry, "set_by_hand": True})
