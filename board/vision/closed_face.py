"""Whether a line closes a face: the edges that should meet its two ends, and the one that should lie opposite.

An edge of a thing bounds a face, whose other edges are in order where only this one is off; a limb or a crease bounds none.
Own measure, no source.
"""

import numpy as np

from board.vision.junctions import point_distances

FADES_TOUCHES = 2.0  # times the touch: how soon an opposite edge that ends elsewhere counts less
PAIR, SAME_SIDE, OPPOSITE, OPPOSITE_AT_ONE = 1.0, 1.0, 1.0, 0.5


def face_closed(line: np.ndarray, crosswise: list[np.ndarray], alike: np.ndarray, reach_px: float, touch_px: float) -> float:
    """0 to 3.5: that edges of one direction meet both ends of `line` (4,) px, that they leave to one side of it, and that their
    other ends meet one edge opposite.

    `crosswise` holds the edges (N, 4) of each other direction, of which those count that end within `reach_px`; `alike` (M, 4) are
    the edges that run as the line should.
    """
    return max((_closed_by(line, edges, alike, reach_px, touch_px) for edges in crosswise if len(edges)), default=0.0)


def _closed_by(line: np.ndarray, edges: np.ndarray, alike: np.ndarray, reach_px: float, touch_px: float) -> float:
    ends = edges.reshape(-1, 2, 2)
    away = np.hypot(*(ends[:, None] - line.reshape(2, 1, 2)).transpose(3, 0, 1, 2))  # edge, end of the line, end of the edge
    at_first, at_second = (np.flatnonzero(away[:, k].min(1) <= reach_px) for k in (0, 1))
    if not len(at_first) or not len(at_second) or (len(at_first) == len(at_second) == 1 and at_first[0] == at_second[0]):
        return 0.0
    along = (line[2:] - line[:2]) / np.hypot(*(line[2:] - line[:2]))
    offset = (ends - (line[:2] + line[2:]) / 2) @ np.array([-along[1], along[0]])
    leaves = np.sign(np.take_along_axis(offset, np.abs(offset).argmax(1)[:, None], 1)[:, 0])
    together = leaves[at_first][:, None] * leaves[at_second] > 0
    distinct = at_first[:, None] != at_second
    if not (together & distinct).any():
        return PAIR * bool(distinct.any())
    closes = np.zeros(together.shape)
    if len(alike):
        first, second = (_other_ends(ends[rows], away[rows, k], alike) for rows, k in ((at_first, 0), (at_second, 1)))
        one, both = (how(first[:, None], second).min(-1) for how in (np.minimum, np.maximum))
        closes = OPPOSITE * np.exp(-both / (FADES_TOUCHES * touch_px)) + OPPOSITE_AT_ONE * np.exp(-one / (FADES_TOUCHES * touch_px))
    return float(PAIR + SAME_SIDE + closes[together & distinct].max())


def _other_ends(ends: np.ndarray, away: np.ndarray, alike: np.ndarray) -> np.ndarray:
    """(K, M) px from the further end of each edge (K, 2, 2) to each of the edges alike."""
    return point_distances(np.take_along_axis(ends, away.argmax(1)[:, None, None], 1)[:, 0], alike)
