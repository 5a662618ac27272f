"""One panel cut out of its page for measuring: its own pixels start at its bounding box's corner."""

from collections.abc import Sequence

import numpy as np

from board.check_contract import PanelUnderCheck
from board.page_space import PictureFrame
from board.vision.camera import height_at
from board.vision.line_segments import DrawnLines
from board.vision.panel_segments import lines_of_panel

NEVER_UPRIGHT = 0.2


class PanelView:
    """`lines` (N) are the panel's own, longest first, in its pixels, `segments` (N, 4) theirs; `size` (width, height) px."""

    def __init__(self, panel: PanelUnderCheck, frame: PictureFrame, page_lines: DrawnLines, lettered: np.ndarray) -> None:
        self.panel, self.frame = panel, frame
        polygon = np.array(frame.polygon_to_pixels(panel.polygon))
        self.corner = polygon.min(0)
        width, height = polygon.max(0) - self.corner
        self.size = float(width), float(height)
        self.diagonal = float(np.hypot(*self.size))
        page_size = round(frame.width_px), round(frame.height_px)
        lines = lines_of_panel(page_lines, polygon, lettered, page_size)
        self.lines = DrawnLines(lines.segments - np.tile(self.corner, 2), lines.spread_px)
        self.segments = self.lines.segments

    def to_px(self, points: Sequence[Sequence[float]]) -> np.ndarray:
        return np.reshape(self.frame.polygon_to_pixels(points), (-1, 2)) - self.corner

    def to_page(self, points: np.ndarray) -> list[list[float]]:
        return [list(map(float, self.frame.to_page(point))) for point in np.asarray(points).reshape(-1, 2) + self.corner]

    def point_to_page(self, point: np.ndarray) -> list[float]:
        """A homogeneous point, x y w, in page coordinates."""
        moved = point + point[2] * np.array([*self.corner, 0.0])
        scaled = moved / [self.frame.width_px, self.frame.height_px, 1.0]
        return [float(v) for v in scaled / np.linalg.norm(scaled)]

    def eye_level(self, horizon: np.ndarray) -> list[list[float]] | None:
        """Where the eye level crosses the panel's sides; None where it stands upright."""
        if abs(horizon[1]) < NEVER_UPRIGHT:
            return None
        return self.to_page(np.array([[x, height_at(horizon, x)] for x in (0.0, self.size[0])]))

    def region(self, lines: np.ndarray) -> dict[str, list[list[float]]]:
        """The box around lines, at least a few pixels wide, inside the picture."""
        points = np.clip(np.array(self.to_page(lines)), 0, 1)
        low, high = points.min(0), points.max(0)
        pad = 0.01
        (x0, y0), (x1, y1) = np.clip(low - pad, 0, 1), np.clip(high + pad, 0, 1)
        return {"polygon": [[float(x), float(y)] for x, y in ((x0, y0), (x1, y0), (x1, y1), (x0, y1))]}
