"""A page of two tiers, each a room of boxes; in the upper one an edge may be turned by some degrees."""

import cv2
import numpy as np

from tests.page_checks.test_perspective import CAMERA, draw

# Their numbers on the demo board: one with an edge turned by 6°, and one where that was mended in the next revision.
BENT, MENDED = 20, 21
SIZE = (1400, 2000)
TIER = (1260, 900)


def two_rooms(turned_deg: float | None = None) -> np.ndarray:
    """uint8 (H, W)."""
    page = np.full(SIZE[::-1], 255, np.uint8)
    for tier, bend in enumerate(((1, 3, turned_deg) if turned_deg else None, None)):
        top = 60 + 960 * tier
        page[top : top + TIER[1], 70 : 70 + TIER[0]] = draw(CAMERA, bend=bend)[50:950, 70:1330]
        cv2.rectangle(page, (70, top), (70 + TIER[0], top + TIER[1]), 0, 6)
    return page
