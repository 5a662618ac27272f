"""Panels against their stills: what was drawn otherwise than the still has it, its camera being known."""

from dataclasses import replace
from typing import Any

import numpy as np

from board.check_contract import CheckResult, Finding, Findings, PageUnderCheck, StillUnderCheck
from board.not_measured import NotMeasured
from board.page_space import PictureFrame
from board.panel_view import PanelView
from board.still_evidence import edges_off, eye_level_off, place_between, place_off
from board.vision.eye_level import NINETY_PERCENT
from board.vision.laid_over import cut_out
from board.vision.lettered_areas import find_lettered_areas
from board.vision.line_evidence import LineEvidence
from board.vision.line_segments import find_lines
from board.vision.panel_segments import lines_within
from board.vision.paper_rules import without_rules
from board.vision.perspective_faults import are_drawn
from board.vision.segment_weights import curve_weights
from board.vision.still_edges import EdgeComparison
from board.vision.still_registration import StillRegistration, register_still
from board.vision.stroke_depths import stroke_depths

DEFAULT_TOLERANCES = {"still_edge_deg": 3.0, "still_eye_level": 0.04, "still_place": 0.03}  # own choice, no source
WIDENED_AT_THUMBNAIL = 2.0
SURELY_ELSEWHERE = -8.0  # log10 of false alarms; floors and rows of windows repeat themselves
SURELY_OFF = 0.6  # of a tolerance, that a miss must pass at 90 %
# Of the still's edges, where it surely lies and where it was only placed: where fewer are drawn, single edges say nothing.
ENOUGH_DRAWN, MOSTLY_DRAWN = 0.35, 0.6
FEWEST_EDGES = 6
BORDER_SHARE, SHORTEST_SHARE = 0.012, 0.02  # of the panel's diagonal
STRAIGHT = 0.5
NO_CAMERA = "The camera of the still is not known: its lines show none, and nobody gave one."
ELSEWHERE = "Too little of the still's edges is drawn where it was placed to hold single edges against them."


def check(page: PageUnderCheck) -> CheckResult:
    """Every panel that a still is placed under."""
    placed = [panel for panel in page.panels if panel.still]
    if not placed:
        return NotMeasured("No still is placed under a panel of this page.")
    lines, lettered = find_lines(without_rules(page.gray)), find_lettered_areas(page.gray)
    frame = PictureFrame(page.gray.shape[1], page.gray.shape[0])
    found, silent, rows = [], {}, []
    for panel in placed:
        if panel.left_alone or panel.still is None:
            silent[panel.id] = NotMeasured("This panel is left alone by this check.")
            continue
        one = StillPanel(page, panel.still, PanelView(panel, frame, lines, lettered))
        told = one.findings()
        rows.append(one.numbers())
        if isinstance(told, NotMeasured):
            silent[panel.id] = told
        else:
            found += told
    return Findings(tuple(found), silent, {"panels": rows})


class StillPanel:
    """One panel, the still it was drawn from, and how well the one lies on the other; px of the panel."""

    def __init__(self, page: PageUnderCheck, still: StillUnderCheck, view: PanelView) -> None:
        self.page, self.view, self.still = page, view, still
        self.placed = shifted(still.S_still_to_page, -view.corner)
        wider = WIDENED_AT_THUMBNAIL if page.stage == "thumbnail" else 1.0
        self.tolerances = {name: wider * value for name, value in {**DEFAULT_TOLERANCES, **page.tolerances}.items()}
        self.lies = self._where_it_lies()
        self.edges = self._compared(self.placed if isinstance(self.lies, NotMeasured) else self.lies.S_still_to_panel)

    def _where_it_lies(self) -> StillRegistration | NotMeasured:
        """Near where it was placed; anywhere else only where that is much surer: somebody said where it lies."""
        pixels, corner = cut_out(self.page.gray, np.array(self.view.frame.polygon_to_pixels(self.view.panel.polygon)))
        aside = self.view.corner - corner
        near = register_still(self.still.gray, pixels, shifted(self.placed, aside))
        lies = register_still(self.still.gray, pixels) if isinstance(near, NotMeasured) else near
        if isinstance(lies, NotMeasured) or (lies is not near and lies.false_alarms > SURELY_ELSEWHERE):
            return NotMeasured(ELSEWHERE)
        return replace(lies, S_still_to_panel=shifted(lies.S_still_to_panel, -aside))

    def _compared(self, S_still_to_panel: np.ndarray) -> EdgeComparison:
        view, (width, height) = self.view, self.view.size
        box = np.array([[0, 0], [width, 0], [width, height], [0, height]])
        still = find_lines(self.still.gray).placed(S_still_to_panel)
        still = lines_within(still, box, BORDER_SHARE * view.diagonal, SHORTEST_SHARE * view.diagonal)
        # Pixel centres at whole numbers there.
        depths = stroke_depths(view.segments + np.tile(view.corner, 2) - 0.5, self.page.gray)
        judged = (curve_weights(view.segments) > STRAIGHT) & are_drawn(view.segments, view.diagonal, depths)
        evidence = LineEvidence.of_picture(self.still.gray, S_still_to_panel)
        return EdgeComparison(view.lines, still, judged, view.diagonal, evidence)

    @property
    def drawn_share(self) -> float:
        """Of the still's edges, by their length, what is drawn where the still lies."""
        length = self.edges.still.length
        return float(length @ self.edges.is_drawn / length.sum()) if len(length) >= FEWEST_EDGES else 0.0

    def findings(self) -> list[Finding] | NotMeasured:
        if not self.still.numbers.get("eye_level"):
            return NotMeasured(NO_CAMERA)
        place = None if isinstance(self.lies, NotMeasured) else self._place(self.lies)
        is_drawn = self.drawn_share >= (MOSTLY_DRAWN if isinstance(self.lies, NotMeasured) else ENOUGH_DRAWN)
        if place is None and not is_drawn:
            level = self._eye_level()
            return [level] if level else NotMeasured(ELSEWHERE)
        tolerance = self.tolerances["still_edge_deg"]
        things = self.edges.off_things(tolerance) if is_drawn else []
        return [*([place] if place else []), *(edges_off(self.view, thing, self.still.title, tolerance) for thing in things)]

    def _place(self, lies: StillRegistration) -> Finding | None:
        """Whether the whole drawing lies elsewhere than the still was placed."""
        off = place_between(self.placed, lies, self.view.size)
        allowed = self.tolerances["still_place"]
        if not off.is_surely_over(allowed):
            return None
        return place_off(self.view, off, self.still, self.placed, lies.S_still_to_panel, allowed)

    def _eye_level(self) -> Finding | None:
        """Whether the drawing's own lines show another eye level than the still."""
        rows = self.page.earlier.get("perspective", {}).get("panels", ())
        own = next((row for row in rows if row["panel"] == self.view.panel.id and not row.get("set_by_hand")), None)
        if own is None or not own.get("eye_level"):
            return None
        middle = self.view.size[0] / 2
        drawn, true = (level_at(self.view.to_px(one["eye_level"]), middle) for one in (own, self.still.numbers))
        unsure = [float(one.get("eye_level_interval_px") or 0.0) for one in (own, self.still.numbers)]
        apart, sigma = (drawn - true) / self.view.size[1], float(np.linalg.norm(unsure)) / NINETY_PERCENT / self.view.size[1]
        allowed = self.tolerances["still_eye_level"]
        if abs(apart) < allowed or abs(apart) - NINETY_PERCENT * sigma < SURELY_OFF * allowed:
            return None
        return eye_level_off(self.view, apart, sigma, own["eye_level"], self.still, allowed)

    def numbers(self) -> dict[str, Any]:
        lies = None if isinstance(self.lies, NotMeasured) else round(self.lies.false_alarms, 1)
        return {"panel": self.view.panel.id, "drawn_share": round(self.drawn_share, 3), "false_alarms": lies}


def shifted(S: np.ndarray, by: np.ndarray) -> np.ndarray:
    moved = S.copy()
    moved[:2, 2] += by
    return moved


def level_at(level: np.ndarray, x: float) -> float:
    (x0, y0), (x1, y1) = level
    return float(y0 + (y1 - y0) * (x - x0) / (x1 - x0))
