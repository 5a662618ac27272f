"""A photograph of a flat page, seen from a slant, laid flat: four corners of the paper become the four corners of the picture.

The paper's own shape follows from the slant where that is enough to tell (Zhang and He, "Whiteboard scanning and image
enhancement", 2007): opposite edges meet in two points, which give the focal length, and with it the sides' true ratio.
"""

import cv2
import numpy as np

from board.not_measured import NotMeasured

# Focal lengths of cameras that photograph pages, in long sides of the picture; what comes out beyond is a slant too slight to tell.
SHORTEST, USUAL, LONGEST = 0.5, 0.85, 4.0
LEAST_SHARE = 0.02  # of the photograph, that the page has to fill
FLAT = 1e-3


def straighten(image: np.ndarray, corners_px: np.ndarray, longest_px: int = 20_000) -> np.ndarray | NotMeasured:
    """The page alone, as (h, w) or (h, w, 3) uint8.

    image: uint8 (H, W) or (H, W, 3). corners_px: (4, 2) of the paper in continuous pixels, clockwise from its upper left.
    """
    corners = np.asarray(corners_px, float)
    if not _goes_round(corners):
        return NotMeasured("The four corners do not go round the page once.")
    if cv2.contourArea(corners.astype(np.float32)) < LEAST_SHARE * image.shape[0] * image.shape[1]:
        return NotMeasured("The page fills too little of the photograph.")
    width, height = page_size_px(corners, (image.shape[1], image.shape[0]), longest_px)
    flat = np.array([[0, 0], [width, 0], [width, height], [0, height]], np.float32)
    # OpenCV counts from the middle of the first pixel.
    H_photo_to_page = cv2.getPerspectiveTransform((corners - 0.5).astype(np.float32), flat - np.float32(0.5))
    return cv2.warpPerspective(image, H_photo_to_page, (width, height), flags=cv2.INTER_CUBIC, borderMode=cv2.BORDER_REPLICATE)


def page_size_px(corners: np.ndarray, image_size: tuple[int, int], longest_px: int = 20_000) -> tuple[int, int]:
    """(width, height) of the page laid flat: its true ratio, and no side with fewer pixels than the photograph shows of it."""
    top, right, bottom, left = (float(np.linalg.norm(corners[i] - corners[(i + 1) % 4])) for i in range(4))
    ratio = side_ratio(corners, image_size)
    height = max(left, right, max(top, bottom) / ratio)
    scale = min(1.0, longest_px / max(height, height * ratio))
    return max(1, round(height * ratio * scale)), max(1, round(height * scale))


def side_ratio(corners: np.ndarray, image_size: tuple[int, int]) -> float:
    """Width over height of the flat page, the camera's axis through the middle of the photograph. corners: (4, 2), px."""
    centred = (corners - np.asarray(image_size) / 2) / max(image_size)
    m1, m2, m4, m3 = np.column_stack([centred, np.ones(4)])  # Zhang and He count across, then down
    k2 = np.dot(np.cross(m1, m4), m3) / np.dot(np.cross(m2, m4), m3)
    k3 = np.dot(np.cross(m1, m4), m2) / np.dot(np.cross(m3, m4), m2)
    across, down = k2 * m2 - m1, k3 * m3 - m1
    focal = _focal(across, down)
    weight = np.array([1 / focal**2, 1 / focal**2, 1.0])
    return float(np.sqrt((across**2 @ weight) / (down**2 @ weight)))


def _focal(across: np.ndarray, down: np.ndarray) -> float:
    """In long sides of the picture; the usual one where one pair of edges runs parallel in the photograph."""
    if abs(across[2]) < FLAT or abs(down[2]) < FLAT:
        return USUAL
    squared = -(across[0] * down[0] + across[1] * down[1]) / (across[2] * down[2])
    return float(np.clip(np.sqrt(squared), SHORTEST, LONGEST)) if squared > 0 else USUAL


def _goes_round(corners: np.ndarray) -> bool:
    """Convex, and clockwise on screen."""
    edges = np.roll(corners, -1, axis=0) - corners
    after = np.roll(edges, -1, axis=0)
    return bool(np.all(edges[:, 0] * after[:, 1] - edges[:, 1] * after[:, 0] > 0))
