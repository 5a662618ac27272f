"""Signs by which things whose edges agree on a turn of their own, or on another eye level, are told for ones drawn so by mistake.

Roofs, gables and people's limbs also agree on such now and then; no one sign settles it, each is weighed (`fault_odds`).
Shares are own choices, no source.
"""

import numpy as np

from board.vision.edge_signs import EdgeSigns
from board.vision.object_perspective import ObjectFit, OtherEyeLevel, OwnTurn

SHORTEST_SHARE = 0.02  # of the picture's diagonal: a line that counts among those around
USUAL_TURN_DEG = 5.0
NEAR_SHARE = 0.1  # of the diagonal, from an edge on another eye level
USUAL_SHIFT_SHARE = 0.1  # of the picture's height
APART_RAD = np.radians(10.0)


def thing_signs(own: OwnTurn, fit: ObjectFit, rows: np.ndarray, lines: EdgeSigns) -> dict[str, float]:
    """By name, logarithms are natural; `rows` names the edges of `fit` among the `lines`, `own` is the turn that it has found."""
    edges = rows[own.explained]
    ends = lines.segments[edges].reshape(-1, 2)
    near = np.hypot(*(lines.middle - lines.middle[edges].mean(0)).T) < np.ptp(ends, axis=0).max()
    return {"gain": np.log(own.gain), "edges": np.log(len(edges)), "explained": len(edges) / fit.missed.sum(),
            "turn": abs(own.turn_deg) / USUAL_TURN_DEG, "width": (own.interval[1] - own.interval[0]) / USUAL_TURN_DEG,
            "another_eye_level": fit.most_by_shift, "misses_left": own.misses.mean(),
            "doubts": np.log(np.median(lines.miss[edges] / lines.doubt_deg[edges])),
            "above_eye_level": _above(edges, lines), "order": _order(near, edges, lines)}


def level_signs(other: OtherEyeLevel, height_px: float, lines: EdgeSigns) -> dict[str, float]:
    """By name, logarithms are natural; of a picture `height_px` high."""
    edges = other.explained
    near = (np.hypot(*(lines.middle[:, None] - lines.middle[edges]).transpose(2, 0, 1)) < NEAR_SHARE * lines.diagonal_px).any(1)
    return {"gain": np.log(other.gain), "shift": abs(other.shift_px) / (USUAL_SHIFT_SHARE * height_px),
            "turn_gain": other.turn_gain, "run_apart": float(run_apart(lines.segments[edges])), "order": _order(near, edges, lines),
            "above_eye_level": _above(edges, lines)}


def _above(edges: np.ndarray, lines: EdgeSigns) -> float:
    """Which share of the edges, by length, lies above the eye level."""
    return float(np.average(lines.are_above(lines.middle[edges]), weights=lines.length[edges]))


def _order(near: np.ndarray, edges: np.ndarray, lines: EdgeSigns) -> float:
    """Which share of the lines (N,) `near`, but for the edges themselves, keep to the picture's points."""
    others = near & lines.straight & lines.strays & (lines.length > SHORTEST_SHARE * lines.diagonal_px)
    others[edges] = False
    in_order = (near & lines.keeps).sum()
    return (in_order + 1) / (in_order + others.sum() + 2)


def run_apart(edges: np.ndarray) -> bool:
    """Whether edges (E, 4) run in more than one direction: parallel ones may be shading, and show no thing in space."""
    angle = np.arctan2(edges[:, 3] - edges[:, 1], edges[:, 2] - edges[:, 0])
    return bool(np.abs((angle[:, None] - angle + np.pi / 2) % np.pi - np.pi / 2).max(initial=0) > APART_RAD)
