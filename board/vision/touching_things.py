"""Which lines of a picture hang together as things whose level edges may be off."""

import numpy as np
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import connected_components

from board.vision.edge_signs import TOUCH_SHARE, EdgeSigns
from board.vision.perspective import Perspective
from board.vision.segment_rays import misses_deg

MOST_EDGES = 24  # of one object: more is a thicket, not a box
SHORTEST_SHARE = 0.03  # of the picture's diagonal
FARTHEST_DEG = 45.0  # near a vanishing point a thing on another eye level misses it by as much
POOR_DOUBTS, POOR_DEG = 2.0, 1.5  # an edge that misses by more, in its own doubts and in degrees, may be wrong


class TouchingThings:
    """The drawn lines of one picture in groups that touch, beside the level points that they run to, or miss."""

    def __init__(self, lines: EdgeSigns, perspective: Perspective) -> None:
        self.lines, self.points = lines, perspective.vanishing_points
        misses = misses_deg(lines.segments, np.array([p.point for p in self.points]))
        level = np.array([p.role == "level" for p in self.points])
        self.nearest, self.miss = misses.argmin(1), misses.min(1)
        near = level[self.nearest] & (self.miss <= FARTHEST_DEG) & lines.straight
        near &= lines.length >= SHORTEST_SHARE * lines.diagonal_px
        poor_from = np.maximum(POOR_DOUBTS * lines.doubt_deg, POOR_DEG)
        self.poor, self.good = np.flatnonzero(near & (self.miss > poor_from)), np.flatnonzero(near & (self.miss <= poor_from))

    def objects(self) -> list[np.ndarray]:
        """Rows of edges that miss and meet each other, or one and the same edge; and with them the level edges that they meet."""
        meets = (self.lines.distance <= TOUCH_SHARE * self.lines.diagonal_px).any(1)
        meets = (meets | meets.T).astype(float)
        through = meets[self.poor] @ meets[:, self.poor] + meets[np.ix_(self.poor, self.poor)]
        count, group = connected_components(coo_matrix(through > 0), directed=False)
        found = []
        for k in range(count):
            poor = self.poor[group == k]
            around = self.good[(meets[np.ix_(self.good, poor)] @ np.ones(len(poor))) > 0]
            if len(poor) <= MOST_EDGES:
                found.append(np.concatenate([poor, around]))
        return found
