"""One picture laid over another by a map between them."""

import cv2
import numpy as np

from board.vision.local_warp import LocalWarp

# The rim of a sheet shows its own edge, not the drawing's: this many pixels of it are not to be trusted.
RIM_PX = 4


def lay_over(before: np.ndarray, H_before_to_after: np.ndarray, back: LocalWarp, shape: tuple[int, ...]
             ) -> tuple[np.ndarray, np.ndarray]:
    """`before` (H, W) as it lies in the frame of after, and where it reaches: uint8 and bool, both of `shape` (height, width).

    `H_before_to_after` (3, 3) in pixel indices of both; `back` undoes the small shifts that come after it. Where the sheet does not
    reach, its rim is drawn on.
    """
    xs, ys = np.arange(shape[1], dtype=np.float32), np.arange(shape[0], dtype=np.float32)
    places = np.stack(np.meshgrid(xs, ys), -1) + back.over(xs, ys).astype(np.float32)
    places = cv2.perspectiveTransform(places, np.linalg.inv(H_before_to_after))
    laid = cv2.remap(before, places, None, cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
    last = before.shape[1] - 1 - RIM_PX, before.shape[0] - 1 - RIM_PX
    return laid, cv2.inRange(places, (RIM_PX, RIM_PX), last) > 0


def cut_out(picture: np.ndarray, polygon: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """The box about a polygon (K, 2 px) cut out of the picture, one pixel at least, and its upper left corner (2,)."""
    limit = np.array(picture.shape[::-1])
    first = np.clip(np.floor(polygon.min(0)).astype(int), 0, limit - 1)
    last = np.clip(np.ceil(polygon.max(0)).astype(int), first + 1, limit)
    return np.ascontiguousarray(picture[first[1] : last[1], first[0] : last[0]]), first
