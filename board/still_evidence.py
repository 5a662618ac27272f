"""Findings of a panel against its still: what is told and drawn where the one was drawn otherwise than the other has it."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import erf, sqrt
from typing import Any

import cv2
import numpy as np

from board.check_contract import Finding, StillUnderCheck
from board.panel_view import PanelView
from board.perspective_evidence import mark
from board.slip_words import larger_or_smaller, listed, turned, way
from board.vision.still_edges import OffThing
from board.vision.still_registration import StillRegistration

SURELY_OVER = 0.6  # of the tolerance, at 90 %
EDGES_DRAWN = 12
NINETY_PERCENT = 1.645
WORTH_TELLING = 0.2  # of the farthest corner's slip, that a shift, a size or a turn must make by itself
ARROWS_AT, ARROW_HEAD = ((0.25, 0.3), (0.75, 0.3), (0.25, 0.7), (0.75, 0.7)), 0.02  # of the panel's width and height; of its width


def edges_off(view: PanelView, thing: OffThing, title: str, tolerance_deg: float) -> Finding:
    """The worst edge is the figure; all of them are drawn, and where they would run."""
    worst, sigma, count = float(abs(thing.off_deg[0])), float(thing.sigma_deg[0]), len(thing.lines)
    marks = [mark("edge", view.to_page(line), "" if k else f"{worst:.1f}°") for k, line in enumerate(thing.lines[:EDGES_DRAWN])]
    marks += [mark("true-edge", view.to_page(line)) for line in thing.true_edges[:EDGES_DRAWN]]
    who = "An edge here runs" if count == 1 else f"{count} edges of this thing run"
    up_to = "" if count == 1 else "up to "
    text = (f"{who} {up_to}{worst:.1f}° (± {NINETY_PERCENT * sigma:.1f}°) otherwise than in the still “{title}” that lies under "
            "the panel, while what stands around agrees with it. It looks bent or skewed beside the rest. Draw it again over the "
            "still; if it was changed on purpose, let it stand.")
    return Finding("still-mismatch", view.panel.id, round(worst, 2), 0.0, round(tolerance_deg, 2), "°",
                   _confidence(worst, sigma, tolerance_deg), text, {"region": view.region(thing.lines), "marks": marks})


def eye_level_off(view: PanelView, apart: float, sigma: float, drawn: Sequence[Sequence[float]],
                  still: StillUnderCheck, tolerance: float) -> Finding:
    """`apart` and `sigma` in panel heights, + where the drawing's lies lower."""
    marks = [mark("eye-level", still.numbers["eye_level"], "of the still"), mark("other-eye-level", drawn, f"{abs(apart):.0%}")]
    text = (f"The lines of this panel run to an eye level {abs(apart):.0%} (± {NINETY_PERCENT * sigma:.0%}) of its height "
            f"{'below' if apart > 0 else 'above'} the one of the still “{still.title}” under it: seen from another height, "
            "figures and things that were taken from the still float or sink. Draw it to the still's eye level, or take a still "
            "from that height.")
    return Finding("still-mismatch", view.panel.id, round(abs(apart), 4), 0.0, round(tolerance, 4), "panel height",
                   _confidence(abs(apart), sigma, tolerance), text, {"region": _whole(view), "marks": marks})


@dataclass(frozen=True)
class PlaceBetween:
    """From where a still was placed to where its drawing lies: `shift` (right, down) in panel widths at the panel's middle, what
    it was scaled by, and degrees clockwise; `slip` is the farthest corner's, in panel widths, `sigma` its own."""

    shift: tuple[float, float]
    scale: float
    turn_deg: float
    slip: float
    sigma: float

    def is_surely_over(self, tolerance: float) -> bool:
        return self.slip >= tolerance and self.slip - NINETY_PERCENT * self.sigma >= SURELY_OVER * tolerance


def place_between(placed: np.ndarray, lies: StillRegistration, size: tuple[float, float]) -> PlaceBetween:
    step, (width, height) = lies.S_still_to_panel @ np.linalg.inv(placed), size
    corners = np.array([[0, 0], [width, 0], [width, height], [0, height], [width / 2, height / 2]])
    slips = (corners @ step[:2, :2].T + step[:2, 2] - corners) / width
    reach = float(np.hypot(*size)) / 2 / width
    sigma = float(np.hypot(np.hypot(*lies.sigma[:2]) / width, np.hypot(*lies.sigma[2:]) * reach))
    return PlaceBetween((float(slips[-1, 0]), float(slips[-1, 1])), float(np.hypot(*step[:2, 0])),
                        float(np.degrees(np.arctan2(step[1, 0], step[0, 0]))), float(np.hypot(*slips.T).max()), sigma)


def place_off(view: PanelView, off: PlaceBetween, still: StillUnderCheck, placed: np.ndarray, lies: np.ndarray,
              tolerance: float) -> Finding:
    """`placed` and `lies` (3, 3) take px of the still to the panel's."""
    high, wide = still.gray.shape
    corners = np.array([[0, 0], [wide, 0], [wide, high], [0, high]])
    outlines = (("limit", placed, "the still"), ("outline", lies, "drawn"))
    marks = [mark(kind, view.to_page(inside), label) for kind, S, label in outlines
             if (inside := _within_panel(_moved(S, corners), view.size)) is not None]
    marks += _arrows(view, lies @ np.linalg.inv(placed))
    told = _told(off, view.size)
    text = (f"The whole drawing lies otherwise than the still “{still.title}” was placed: {listed([told[name] for name in told])}; "
            f"up to {100 * off.slip:.1f} % of the panel's width at its corners. Eye level and heights taken from the still are off "
            f"by as much. If the drawing is right, place the still again (it can be found); else {_mended(off, told)}.")
    return Finding("still-mismatch", view.panel.id, round(100 * off.slip, 2), 0.0, round(100 * tolerance, 2), "% of panel width",
                   _confidence(off.slip, off.sigma, tolerance), text, {"region": _whole(view), "marks": marks})


def _told(off: PlaceBetween, size: tuple[float, float]) -> dict[str, str]:
    """What makes the slip: the rest would be told as a nought."""
    reach, shift = float(np.hypot(*size)) / 2 / size[0], float(np.hypot(*off.shift))
    ways = {
        "shift": (shift, f"{100 * shift:.1f} % of the panel's width {way(*off.shift)}"),
        "scale": (abs(off.scale - 1) * reach, larger_or_smaller(off.scale)),
        "turn": (abs(np.radians(off.turn_deg)) * reach, turned(off.turn_deg)),
    }
    return {name: words for name, (by, words) in ways.items() if by >= WORTH_TELLING * off.slip}


def _mended(off: PlaceBetween, told: dict[str, str]) -> str:
    back = {"shift": f"move the drawing {way(-off.shift[0], -off.shift[1])} by as much",
            "scale": f"make it {'smaller' if off.scale > 1 else 'larger'}",
            "turn": f"turn it {'counter-clockwise' if off.turn_deg > 0 else 'clockwise'}"}
    return listed([back[name] for name in told])


def _arrows(view: PanelView, step: np.ndarray) -> list[dict[str, Any]]:
    """From where the still has places of the panel to where they are drawn."""
    marks = []
    for start in np.multiply(ARROWS_AT, view.size):
        end = _moved(step, start)
        along = (end - start) / max(1e-9, float(np.hypot(*(end - start)))) * ARROW_HEAD * view.size[0]
        across = np.array([-along[1], along[0]]) / 2
        marks += [mark("support", view.to_page(np.array([start, end]))),
                  mark("outline", view.to_page(np.array([end, end - along + across, end - along - across])))]
    return marks


def _within_panel(corners: np.ndarray, size: tuple[float, float]) -> np.ndarray | None:
    """What of an outline lies in the panel's box; None where that is all of the box, or nothing."""
    box = np.array([[0, 0], [size[0], 0], size, [0, size[1]]], np.float32)
    area, inside = cv2.intersectConvexConvex(corners.astype(np.float32), box)
    return inside.reshape(-1, 2) if 0 < area < 0.995 * size[0] * size[1] else None


def _moved(S: np.ndarray, points: np.ndarray) -> np.ndarray:
    return points @ S[:2, :2].T + S[:2, 2]


def _whole(view: PanelView) -> dict[str, Any]:
    (width, height), pad = view.size, 0.02
    corners = np.array([[pad, pad], [1 - pad, pad], [1 - pad, 1 - pad], [pad, 1 - pad]]) * [width, height]
    return {"polygon": view.to_page(corners)}


def _confidence(miss: float, sigma: float, tolerance: float) -> float:
    """How likely it is off by more than half the tolerance."""
    return round(min(0.99, (1 + erf((miss - tolerance / 2) / max(sigma, 1e-6) / sqrt(2))) / 2), 3)
