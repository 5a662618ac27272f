"""Where each point of one panel has gone, when it is registered by itself: it slid, grew, or stands elsewhere on the page."""

from dataclasses import dataclass

import numpy as np

from board.vision.laid_over import cut_out
from board.vision.page_registration import PageRegistration, register_pages


@dataclass(frozen=True, eq=False)
class PanelMap:
    """`registration` of the two cut-outs; `corner_before`, `corner_after` (2,): their upper left corners in px of the pictures."""

    registration: PageRegistration
    corner_before: np.ndarray
    corner_after: np.ndarray

    @property
    def quality(self) -> float:
        """0..1, as of a page."""
        return float(self.registration.quality)

    def map_points(self, points_px: np.ndarray) -> np.ndarray:
        """(N, 2) px of before -> (N, 2) px of after, both of the whole picture."""
        points = np.asarray(points_px, float).reshape(-1, 2)
        return self.registration.map_points(points - self.corner_before) + self.corner_after

    def to_numbers(self) -> dict:
        """Plain JSON, from which `from_numbers` makes the same map again."""
        corners = {"corner_before": self.corner_before.tolist(), "corner_after": self.corner_after.tolist()}
        return self.registration.to_numbers() | corners

    @classmethod
    def from_numbers(cls, numbers: dict) -> "PanelMap":
        corners = (np.array(numbers[name], float) for name in ("corner_before", "corner_after"))
        return cls(PageRegistration.from_numbers(numbers), *corners)


def map_panel(pictures: tuple[np.ndarray, np.ndarray], older: np.ndarray, newer: np.ndarray) -> PanelMap:
    """The drawing in the box of `older` (K, 2) px laid onto that in the box of `newer`, upright.

    pictures: of before and after, uint8 gray (H, W). It takes a third of the time of a page.
    """
    cuts = [cut_out(picture, outline) for picture, outline in zip(pictures, (older, newer), strict=True)]
    (before, corner_before), (after, corner_after) = cuts
    return PanelMap(register_pages(before, after, upright=True), corner_before, corner_after)
