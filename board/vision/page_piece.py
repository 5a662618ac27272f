"""A part of what stands on the ground of a page, and the sizes by which it is judged."""

from dataclasses import dataclass

import numpy as np

MOST_OBLONG = 2.0  # times its shorter side: a longer strip is several pages' worth of panels, one after the other


def page_side_px(shape: tuple[int, ...]) -> float:
    """The longer side of a page as wide as a picture of this shape (H, W): its own, but for strips, whose panels are no larger
    than a page's."""
    return min(float(max(shape)), MOST_OBLONG * min(shape))


@dataclass(frozen=True)
class PieceScale:
    """Sizes in px of a page, reduced, that decide what is a panel; shares of its longer side or area are trials, no source."""

    longer_px: float
    area_px: float

    @classmethod
    def of(cls, shape: tuple[int, ...]) -> "PieceScale":
        """Of a picture (H, W)."""
        return cls(page_side_px(shape), page_side_px(shape) * min(shape))

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
