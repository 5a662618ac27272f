"""Signs by which things whose edges agree on a turn of their own, or on another eye level, are told for ones drawn so by mistake.

Roofs, gables and people's limbs also agree on such now and then; no one sign settles it, each is weighed (`fault_odds`).
Shares are own choices, no source.
"""

import numpy as np

from board.vision.edge_signs import EdgeSigns
from board.vision.object_perspective import ObjectFit, OtherEyeLevel, OwnTurn

USUAL_TURN_DEG = 5.0
PARALLEL_DEG = 6.0
LEAST_DEG = 0.1  # that an edge is taken to miss by: the logarithm of none is none
USUAL_SHIFT_SHARE = 0.1  # of the picture's height
APART_RAD = np.radians(10.0)


def thing_signs(own: OwnTurn, fit: ObjectFit, rows: np.ndarray, lines: EdgeSigns) -> dict[str, float]:
    """By name, logarithms are natural; `rows` names the edges of `fit` among the `lines`, `own` is the turn that it has found."""
    edges = rows[own.explained]
    least = np.abs(own.interval).min() / USUAL_TURN_DEG if np.prod(own.interval) > 0 else 0.0
    own_turns = lines.turns_deg(edges)[edges]
    return {"gain": np.log(own.gain), "edges": np.log(len(edges)), "explained": len(edges) / fit.missed.sum(),
            "least_turn": least, "least_turn_squared": least**2, "another_eye_level": fit.most_by_shift,
            "misses_left": own.misses.mean(), "doubts": np.log(np.median(lines.miss[edges] / lines.doubt_deg[edges])),
            "doubt_deg": np.log(np.median(lines.doubt_deg[edges])), "above_eye_level": _above(edges, lines),
            "edges_in_order": np.log1p((~fit.missed).sum()),
            "parallel": np.log1p(((own_turns > 0) & (own_turns < PARALLEL_DEG)).any(1).sum()),
            "uprights": _at_uprights(edges, lines), "touch_each_other": _touch_each_other(edges, lines)}


def level_signs(other: OtherEyeLevel, height_px: float, lines: EdgeSigns) -> dict[str, float]:
    """By name, logarithms are natural; of a picture `height_px` high."""
    edges, shift = other.explained, abs(other.shift_px) / (USUAL_SHIFT_SHARE * height_px)
    miss, touch = np.maximum(lines.miss[edges], LEAST_DEG), lines.touches[edges].any(0)
    touch[edges] = False
    return {"gain": np.log(other.gain), "shift": shift, "shift_squared": shift**2, "turn_gain": other.turn_gain,
            "run_apart": float(run_apart(lines.segments[edges])), "above_eye_level": _above(edges, lines),
            "miss": np.log(np.median(miss)), "doubts": np.log(np.median(miss / lines.doubt_deg[edges])),
            "darkness": float(np.median(lines.darkness[edges])), "uprights": _at_uprights(edges, lines),
            "touch_each_other": _touch_each_other(edges, lines), "touch_strangers": np.log1p((touch & ~lines.keeps).sum()),
            "touch_others": np.log1p((touch & lines.keeps).sum())}


def _at_uprights(edges: np.ndarray, lines: EdgeSigns) -> float:
    """Which share of the edges an upright one touches, as at the corner of a thing."""
    upright = lines.keeps & np.array([point.role == "upright" for point in lines.points])[lines.nearest]
    return float((lines.touches[edges] & upright).any(1).mean())


def _touch_each_other(edges: np.ndarray, lines: EdgeSigns) -> float:
    """Which share of the edges touches another of them."""
    return float(lines.touches[np.ix_(edges, edges)].any(1).mean())


def _above(edges: np.ndarray, lines: EdgeSigns) -> float:
    """Which share of the edges, by length, lies above the eye level."""
    return float(np.average(lines.are_above(lines.middle[edges]), weights=lines.length[edges]))


def run_apart(edges: np.ndarray) -> bool:
    """Whether edges (E, 4) run in more than one direction: parallel ones may be shading, and show no thing in space."""
    angle = np.arctan2(edges[:, 3] - edges[:, 1], edges[:, 2] - edges[:, 0])
    return bool(np.abs((angle[:, None] - angle + np.pi / 2) % np.pi - np.pi / 2).max(initial=0) > APART_RAD)
