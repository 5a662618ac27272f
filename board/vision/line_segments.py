"""Straight segments of a drawing or a picture: where a stroke or the edge of a tone runs straight."""

from dataclasses import dataclass

import cv2
import numpy as np

from board.vision.joined_runs import join_runs
from board.vision.line_points import stroke_and_edge_points
from board.vision.straight_runs import Runs, fitted, straight_runs

LARGEST_PX = 2550  # longer side; a larger scan is measured at this size, at which a printed page's lines are a few pixels wide
SHORTEST_PX = 12.0
LEAST_PX = 6
SPREADS, LEAST_SPREAD_PX = 2.0, 0.3  # over a line's length, what its direction is in doubt by


@dataclass(frozen=True)
class DrawnLines:
    """`segments` (N, 4) px; `spread_px` (N,) root mean square of what was drawn about each: a line gone over twice spreads more."""

    segments: np.ndarray
    spread_px: np.ndarray

    @property
    def doubt_deg(self) -> np.ndarray:
        """(N,) by which each direction is in doubt, from what was drawn about the line over its length. From trials, no source."""
        length_px = np.hypot(*(self.segments[:, 2:] - self.segments[:, :2]).T)
        return np.degrees(SPREADS * np.maximum(self.spread_px, LEAST_SPREAD_PX) / np.maximum(length_px, LEAST_SPREAD_PX))

    def placed(self, S: np.ndarray) -> "DrawnLines":
        """As they lie after a similarity (3, 3); what was drawn about them is magnified with them."""
        ends = self.segments.reshape(-1, 2) @ S[:2, :2].T + S[:2, 2]
        return DrawnLines(ends.reshape(-1, 4), float(np.hypot(*S[:2, 0])) * np.maximum(self.spread_px, LEAST_SPREAD_PX))


def find_segments(gray: np.ndarray) -> np.ndarray:
    """Segments (N, 4) float64 x1 y1 x2 y2 in px of `gray` uint8 (H, W), pixel (i, j) covering [i, i+1]; longest first.

    Sub-pixel, along the middle of a stroke; the pieces of a broken line and the strokes of one gone over twice are one segment.
    (0, 4) on a blank.
    """
    return find_lines(gray).segments


def find_lines(gray: np.ndarray, *, is_toned: bool = False) -> DrawnLines:
    """The segments of `find_segments`, and how far what they were found in spreads about each; `is_toned`: of a render or a
    photograph."""
    height, width = gray.shape
    if min(height, width) < LEAST_PX:
        return DrawnLines(np.zeros((0, 4)), np.zeros(0))
    scale = min(1.0, LARGEST_PX / max(height, width))
    small = gray if scale == 1.0 else cv2.resize(gray, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA)
    strokes, edges = stroke_and_edge_points(small, is_toned=is_toned)
    found = straight_runs(strokes, small.shape, have_sides=False), straight_runs(edges, small.shape, have_sides=True)
    lines = join_runs(Runs.together(*found))
    to_page = np.array([width / small.shape[1], height / small.shape[0]])
    segments = (lines.ends + 0.5) * np.tile(to_page, 2)
    length = np.hypot(segments[:, 2] - segments[:, 0], segments[:, 3] - segments[:, 1])
    order = np.argsort(-length, kind="stable")
    order = order[length[order] >= SHORTEST_PX]
    return DrawnLines(segments[order], fitted(lines.moments[order])[2] * float(to_page.mean()))
