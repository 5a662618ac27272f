"""Same-as panels: whether the drawing that a panel takes over from an earlier one still stands where it stood."""

from math import erf, sqrt
from typing import Any

import numpy as np

from board.check_contract import CheckResult, Finding, Findings, PageUnderCheck, PanelUnderCheck, SameAsUnderCheck
from board.not_measured import NotMeasured
from board.page_space import PictureFrame, bounds
from board.slip_words import larger_or_smaller, listed, panel_called, turned, way
from board.vision.laid_over import cut_out
from board.vision.shared_drawing import SharedDrawing, find_shared_drawing

# Off by less, readers meet hand noise; a same-as panel drawn anew by hand stays below half of each. Own measurement.
DEFAULT_TOLERANCES = {"same_as_shift": 0.007, "same_as_scale": 0.012, "same_as_turn_deg": 0.6}
WIDENED_AT_THUMBNAIL = 2.0
CERTAIN = 2.0  # sigmas that must stand beyond the tolerance
# Off by more it is another framing, and meant: a pan, a push in, a tilt.
MEANT_SHIFT, MEANT_SCALE, MEANT_TURN_DEG = 0.1, 0.1, 6.0
# Where this share of what agrees also stands where it stood, nothing is sure to have moved. Own measurement: 0.97 and more on
# backgrounds that stand, 0.6 and less on those that slipped.
STANDS = 0.65
# What agrees by less than this may agree by chance, and is looked for mirrored too; it is mirrored where that agrees by so much
# more. Own measurement: of 36 backgrounds as they are none was taken as mirrored; mirrored ones agree as they are by 0.52 at most.
SURE_AS_IT_IS, CLEARLY_MORE = 0.6, 0.2
SHOWN = 8  # slips drawn as evidence
UNITS = {"shift": "% of panel width", "scale": "%", "turn": "degrees"}


def check(page: PageUnderCheck) -> CheckResult:
    """Lays the earlier panel's drawing on each panel that somebody declared the same as it."""
    declared = [panel for panel in page.panels if panel.same_as]
    if not declared:
        return NotMeasured("No panel of this page is declared the same as an earlier one.")
    found, silent, rows = [], {}, []
    for panel in declared:
        view = SameAsPanel(page, panel, panel.same_as)
        if isinstance(view.shared, NotMeasured):
            silent[panel.id] = view.shared
        else:
            rows.append(view.numbers(view.shared))
            found += view.findings(view.shared)
    return Findings(tuple(found), silent, {"panels": rows})


class SameAsPanel:
    """One panel, the earlier one it takes over, and how the drawing of both lies."""

    def __init__(self, page: PageUnderCheck, panel: PanelUnderCheck, model: SameAsUnderCheck | None) -> None:
        assert model is not None
        self.page, self.panel, self.model = page, panel, model
        self.frame = PictureFrame(page.gray.shape[1], page.gray.shape[0])
        corners = np.array(self.frame.polygon_to_pixels(panel.polygon))
        self.corner, self.wide_px = corners.min(0), float(np.ptp(corners[:, 0]))
        self.is_mirrored = False
        self.shared = NotMeasured("This panel is left alone by this check.") if panel.left_alone else self._lay_over(corners)

    def _lay_over(self, corners: np.ndarray) -> SharedDrawing | NotMeasured:
        gray = cut_out(self.page.gray, corners)[0]
        shared = find_shared_drawing(self.model.gray, gray)
        if _agreement(shared) < SURE_AS_IT_IS:
            mirrored = find_shared_drawing(np.ascontiguousarray(self.model.gray[:, ::-1]), gray)
            self.is_mirrored = _agreement(mirrored) > _agreement(shared) + CLEARLY_MORE
            shared = mirrored if self.is_mirrored else shared
        if isinstance(shared, SharedDrawing) and _looks_meant(shared):
            return NotMeasured("The shared drawing is framed so differently that it looks meant.")
        return shared

    def findings(self, shared: SharedDrawing) -> list[Finding]:
        off = self._off(shared)
        if not off or shared.unmoved > STANDS * shared.agreement:
            return []
        leading = max(off, key=lambda name: abs(off[name][0]) / off[name][2])
        measured, sigma, tolerance = off[leading]
        return [Finding("same-as-drift", self.panel.id, round(measured, 2), 0.0, round(tolerance, 2), UNITS[leading],
                        _confidence(abs(measured), sigma, tolerance), self._text(shared, list(off)), self._geometry(shared))]

    def _off(self, shared: SharedDrawing) -> dict[str, tuple[float, float, float]]:
        """What is surely off: name -> (measured, 1 sigma, tolerance), in the units of `UNITS`."""
        allowed = {**DEFAULT_TOLERANCES, **self.page.tolerances}
        wider = WIDENED_AT_THUMBNAIL if self.page.stage == "thumbnail" else 1.0
        all_of = {
            "shift": (100 * shared.shift_size, 100 * shared.shift_sigma, 100 * wider * allowed["same_as_shift"]),
            "scale": (100 * (shared.scale - 1), 100 * shared.scale_sigma, 100 * wider * allowed["same_as_scale"]),
            "turn": (shared.turn_deg, shared.turn_sigma_deg, wider * allowed["same_as_turn_deg"]),
        }
        return {name: one for name, one in all_of.items() if abs(one[0]) - CERTAIN * one[1] > one[2]}

    def _text(self, shared: SharedDrawing, off: list[str]) -> str:
        ways = {
            "shift": f"{100 * shared.shift_size:.1f} % of the panel's width {way(*shared.shift)}",
            "scale": larger_or_smaller(shared.scale), "turn": turned(shared.turn_deg),
        }
        slipped = listed([ways[name] for name in off])
        shares = f"{self._model_called()}{', mirrored here,' if self.is_mirrored else ''}"
        return (f"The background that this panel shares with {shares} has slipped: {slipped}. "
                "Where a picture is kept, readers take every change for the story's: a slip reads as a jolt of the camera. "
                f"Lay the earlier drawing under this one again, {'mirrored, ' if self.is_mirrored else ''}frame on frame.")

    def _model_called(self) -> str:
        return panel_called(self.model.order, self.model.page_number, self.model.is_spread)

    def _geometry(self, shared: SharedDrawing) -> dict[str, Any]:
        """The earlier frame as its drawing lies now, and how far the drawing moved in several places."""
        x0, y0, x1, y1 = bounds(self.panel.polygon)
        high = self.model.gray.shape[0] / self.model.gray.shape[1]
        frame = _moved(shared.H_before_to_after, np.array([[0, 0], [1, 0], [1, high], [0, high]], float))
        at = shared.at[:: max(1, len(shared.at) // SHOWN)][:SHOWN]
        was = _moved(np.linalg.inv(shared.H_before_to_after), at)
        slips = [{"kind": "support", "points": self._to_page(np.array(ends)), "label": ""} for ends in zip(was, at, strict=True)]
        marks = [{"kind": "outline", "points": self._to_page(frame), "label": "the earlier frame"}, *slips]
        other = {"panel": self.model.panel, "called": self._model_called()}
        return {"region": {"polygon": [[x0, y0], [x1, y0], [x1, y1], [x0, y1]]}, "marks": marks, "other": other}

    def _to_page(self, points: np.ndarray) -> list[list[float]]:
        return [list(map(float, self.frame.to_page(point))) for point in points * self.wide_px + self.corner]

    def numbers(self, shared: SharedDrawing) -> dict[str, Any]:
        return {"panel": self.panel.id, "same_as": self.model.panel, "is_mirrored": self.is_mirrored,
                "shift": [round(part, 5) for part in shared.shift],
                "scale": round(shared.scale, 5), "turn_deg": round(shared.turn_deg, 3), "agreement": round(shared.agreement, 3)}


def _agreement(shared: SharedDrawing | NotMeasured) -> float:
    return shared.agreement if isinstance(shared, SharedDrawing) else 0.0


def _looks_meant(shared: SharedDrawing) -> bool:
    return shared.shift_size > MEANT_SHIFT or abs(shared.scale - 1) > MEANT_SCALE or abs(shared.turn_deg) > MEANT_TURN_DEG


def _moved(H: np.ndarray, points: np.ndarray) -> np.ndarray:
    return points @ H[:2, :2].T + H[:2, 2]


def _confidence(miss: float, sigma: float, tolerance: float) -> float:
    """How likely it is off by more than half the tolerance."""
    return round(min(0.99, (1 + erf((miss - tolerance / 2) / max(sigma, 1e-6) / sqrt(2))) / 2), 3)
