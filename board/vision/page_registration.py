"""Where each point of a revision has gone on the next one."""

from dataclasses import dataclass

import cv2
import numpy as np

from board.vision.local_warp import LocalWarp, still
from board.vision.registration_pyramid import UNSURE, align


@dataclass(frozen=True, eq=False)
class PageRegistration:
    """The map from one revision to the next, as it is stored with the newer one.

    `size_before`, `size_after`: (width, height) in px; `H_before_to_after` (3, 3) in continuous pixels of both pictures.
    `local` adds small shifts in px of after. `quality` 0..1: the share of the drawing that is brought onto its counterpart; at 0
    nothing was found in common, and the map is only the scaling of one sheet to the other.
    """

    size_before: tuple[int, int]
    size_after: tuple[int, int]
    H_before_to_after: np.ndarray
    local: LocalWarp
    quality: float

    def map_points(self, points_px: np.ndarray) -> np.ndarray:
        """(N, 2) px of before -> (N, 2) px of after."""
        points = np.asarray(points_px, float).reshape(-1, 2)
        if len(points) == 0:
            return points
        laid = cv2.perspectiveTransform(points[None], self.H_before_to_after)[0]
        return laid + self.local.at(laid)

    def to_numbers(self) -> dict:
        """Plain JSON, from which `from_numbers` makes the same map again."""
        return {
            "size_before": list(self.size_before),
            "size_after": list(self.size_after),
            "H_before_to_after": self.H_before_to_after.tolist(),
            "local_shifts": self.local.nodes.tolist(),
            "quality": self.quality,
        }

    @classmethod
    def from_numbers(cls, numbers: dict) -> "PageRegistration":
        return cls(
            tuple(numbers["size_before"]),
            tuple(numbers["size_after"]),
            np.array(numbers["H_before_to_after"], float),
            LocalWarp(tuple(numbers["size_after"]), np.array(numbers["local_shifts"], float)),
            float(numbers["quality"]),
        )


def register_pages(before: np.ndarray, after: np.ndarray, *, upright: bool = False) -> PageRegistration:
    """Where the drawing of one revision lies on the next.

    before, after: uint8 gray, of any two sizes. A sheet may be shifted, turned by 12° or less, scaled, cropped, tilted or unevenly
    lit, drawn in another medium, and, unless both are known to be `upright`, lie on its side or upside down. Where the two show
    nothing in common (a blank page, another page) the answer is the plain scaling of one sheet to the other, with a quality of 0.
    Raises ValueError for anything but two gray pictures.
    """
    for picture in (before, after):
        if picture.ndim != 2 or picture.dtype != np.uint8 or picture.size == 0:
            raise ValueError("Registration takes two gray pictures, uint8 (H, W).")
    sizes = before.shape[::-1], after.shape[::-1]
    alignment = align(before, after, upright)
    if alignment is None or alignment.agreement < UNSURE:
        return PageRegistration(*sizes, np.diag([sizes[1][0] / sizes[0][0], sizes[1][1] / sizes[0][1], 1.0]), still(sizes[1]), 0.0)
    return PageRegistration(*sizes, alignment.H_before_to_after, alignment.local, alignment.agreement)
