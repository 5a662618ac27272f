"""A part of what stands on the ground of a page, and the sizes by which it is judged."""

from dataclasses import dataclass

import numpy as np


@dataclass(frozen=True)
class PieceScale:
    """Sizes in px of the reduced picture that decide what is a panel; shares of its longer side or area are trials, no source."""

    longer_px: float
    area_px: float

    @property
    def line_tolerance_px(self) -> float:
        return max(2.0, 0.0025 * self.longer_px)

    @property
    def least_side_px(self) -> float:
        return 0.03 * self.longer_px

    @property
    def least_area_px(self) -> float:
        return 0.006 * self.area_px


@dataclass(frozen=True)
class Piece:
    """A part of the content, as a mask in its own box: `mask` bool (h, w), its top left corner at `left`, `top`."""

    mask: np.ndarray
    left: int
    top: int

    def full(self, shape: tuple[int, int]) -> np.ndarray:
        whole = np.zeros(shape, bool)
        height, width = self.mask.shape
        whole[self.top : self.top + height, self.left : self.left + width] = self.mask
        return whole
