"""The straight sides of a piece of the page: long lines along its outline, with drawing on one side and ground on the other."""

from dataclasses import dataclass
from math import atan2, cos, sin

import cv2
import numpy as np

FEWEST_AT_FIRST = 0.4  # of the outline that a side must have, near the run that it is first taken from


@dataclass(frozen=True)
class FrameLine:
    """A line n . p = offset; `normal` (2,) is of length 1 and points out of the piece. `span` is the covered stretch along it."""

    normal: np.ndarray
    offset: float
    support: float  # px of outline that lie on it
    span: tuple[float, float]

    def height_of(self, points: np.ndarray) -> np.ndarray:
        """How far points (N, 2) lie outside of the line, in px; negative inside."""
        return points @ self.normal - self.offset

    @property
    def along(self) -> np.ndarray:
        return np.array([-self.normal[1], self.normal[0]])

    def moved(self, by: np.ndarray) -> "FrameLine":
        """The same line in a frame whose origin lies at -by (2,)."""
        start, end = self.span[0] + float(by @ self.along), self.span[1] + float(by @ self.along)
        return FrameLine(self.normal, self.offset + float(by @ self.normal), self.support, (start, end))


def _outline_points(outlines: list[np.ndarray]) -> tuple[np.ndarray, np.ndarray]:
    """Points (N, 2) along outer outlines (K, 1, 2), about one a pixel, and their outward normals (N, 2)."""
    points = [outline[:, 0].astype(float) for outline in outlines]
    return np.concatenate(points), np.concatenate([_normals(line) for line in points])


def _normals(line: np.ndarray, reach: int = 4) -> np.ndarray:
    # OpenCV walks an outer outline anticlockwise on screen (y down), so the outside is to the right of the walk.
    run = line.take(np.arange(reach, len(line) + reach), axis=0, mode="wrap")
    run -= line.take(np.arange(-reach, len(line) - reach), axis=0, mode="wrap")
    length = np.maximum(np.hypot(run[:, 0], run[:, 1]), 1e-9)
    return np.stack([-run[:, 1], run[:, 0]], axis=1) / length[:, None]


def find_frame_lines(mask: np.ndarray, tolerance_px: float, least_px: float) -> list[FrameLine]:
    """The straight sides of `mask` (bool (H, W)) with at least `least_px` of outline within `tolerance_px`, longest first."""
    contours, _ = cv2.findContours(mask.astype(np.uint8), cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    outlines = [contour for contour in contours if len(contour) >= 20]
    if not outlines:
        return []
    points, normals = _outline_points(outlines)
    lines: list[FrameLine] = []
    for normal, through in _hypotheses(outlines, least_px / 6):
        line = _fit(points, normals, normal, through, tolerance_px, FEWEST_AT_FIRST * least_px)
        if line is not None and line.support >= least_px:
            lines.append(line)
            on_it = (np.abs(line.height_of(points)) < 2 * tolerance_px) & (normals @ line.normal > 0.8)
            points, normals = points.compress(~on_it, axis=0), normals.compress(~on_it, axis=0)
    return sorted(lines, key=lambda line: -line.support)


def _hypotheses(outlines: list[np.ndarray], least_px: float, most: int = 40) -> list[tuple[np.ndarray, np.ndarray]]:
    """Normals and points of the longest straight runs of outlines (K, 1, 2)."""
    runs = []
    for outline in outlines:
        corners = cv2.approxPolyDP(outline, 2.0, True)[:, 0].astype(float)
        runs.append(np.stack([corners, np.concatenate([corners[1:], corners[:1]])], axis=1))
    ends = np.concatenate(runs)
    x, y = (ends[:, 1] - ends[:, 0]).T
    length = np.hypot(x, y)
    longest = np.argsort(-length, kind="stable")[:most]
    longest = longest[length[longest] >= least_px]
    normals = np.stack([-y, x], axis=1)[longest] / length[longest, None]
    return list(zip(normals, ends[longest].mean(axis=1), strict=True))


def _fit(points: np.ndarray, normals: np.ndarray, normal: np.ndarray, through: np.ndarray, tolerance_px: float,
         fewest: float) -> FrameLine | None:
    """The line through the outline points near a hypothesis, fitted again as it gathers more of them."""
    offset = float(through @ normal)
    for reach in (2.0, 1.5, 1.0, 1.0):
        on_it = (np.abs(points @ normal - offset) <= reach * tolerance_px) & (normals @ normal > 0.8)
        chosen = points.compress(on_it, axis=0)  # in a tenth of the time that an index takes for rows of two
        if len(chosen) < max(10.0, fewest):
            return None
        middle = chosen.sum(axis=0) / len(chosen)
        fresh = _across(chosen - middle, normal)
        if fresh @ normal < 0.9:
            return None
        normal, offset = fresh, float(middle @ fresh)
    along = chosen @ np.array([-normal[1], normal[0]])
    start, end = float(along.min()), float(along.max())
    support = np.count_nonzero(np.bincount(np.round(along).astype(int) - round(start)))  # how many different px
    return FrameLine(normal, offset, float(support), (start, end))


def _across(spread: np.ndarray, towards: np.ndarray) -> np.ndarray:
    """The direction (2,) in which points (N, 2) about their middle spread least, on the side of `towards`. In closed form: this is
    asked for thousands of times a page."""
    (xx, xy), (_, yy) = (spread.T @ spread).tolist()
    turn = 0.5 * atan2(2 * xy, xx - yy)  # of the direction in which they spread most
    least = np.array([-sin(turn), cos(turn)])
    return least if least @ towards > 0 else -least
