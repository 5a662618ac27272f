"""Signs by which a thing whose edges agree on a turn of their own is told for one drawn askew by mistake.

Roofs, gables and people's limbs also agree on a turn now and then; no one sign settles it, each is weighed (`fault_odds`).
Shares are own choices, no source.
"""

import numpy as np

from board.vision.edge_signs import EdgeSigns
from board.vision.object_perspective import ObjectFit, OwnPerspective

SHORTEST_SHARE = 0.02  # of the picture's diagonal: a line that counts among those around
USUAL_TURN_DEG = 5.0


def thing_signs(own: OwnPerspective, fit: ObjectFit, rows: np.ndarray, lines: EdgeSigns) -> dict[str, float]:
    """By name, logarithms are natural; `rows` names the edges of `fit` among the `lines`, `own` is the turn that it has found."""
    edges = rows[own.explained]
    middle, length, ends = lines.middle[edges], lines.length[edges], lines.segments[edges].reshape(-1, 2)
    near = np.hypot(*(lines.middle - middle.mean(0)).T) < np.ptp(ends, axis=0).max()
    others = near & lines.straight & lines.strays & (lines.length > SHORTEST_SHARE * lines.diagonal_px)
    others[edges] = False
    in_order = (near & lines.keeps).sum()
    return {"gain": np.log(own.gain), "edges": np.log(len(edges)), "explained": len(edges) / fit.missed.sum(),
            "turn": abs(own.turn_deg) / USUAL_TURN_DEG, "width": (own.interval[1] - own.interval[0]) / USUAL_TURN_DEG,
            "another_eye_level": fit.most_by_shift, "misses_left": own.misses.mean(),
            "doubts": np.log(np.median(lines.miss[edges] / lines.doubt_deg[edges])),
            "above_eye_level": (length * lines.are_above(middle)).sum() / length.sum(),
            "order": (in_order + 1) / (in_order + others.sum() + 2)}
