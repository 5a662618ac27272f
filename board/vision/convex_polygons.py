"""Convex polygons as float arrays (K, 2), continuous pixel coordinates."""

import cv2
import numpy as np


def convex_hull(mask: np.ndarray) -> np.ndarray:
    """The hull (K, 2) of the pixels of `mask` (bool (H, W)), each taken as the square that it covers."""
    contours, _ = cv2.findContours(mask.astype(np.uint8), cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_SIMPLE)
    points = np.concatenate([contour[:, 0] for contour in contours])
    corners = np.concatenate([points + shift for shift in ((0, 0), (1, 0), (0, 1), (1, 1))])
    return cv2.convexHull(corners.astype(np.float32))[:, 0].astype(float)


def clip_by_line(polygon: np.ndarray, normal: np.ndarray, offset: float) -> np.ndarray:
    """The part of a convex polygon with normal . p <= offset; (0, 2) where nothing is left."""
    kept: list[np.ndarray] = []
    heights = polygon @ normal - offset
    for k in range(len(polygon)):
        after = (k + 1) % len(polygon)
        if heights[k] <= 0:
            kept.append(polygon[k])
        if (heights[k] < 0) != (heights[after] < 0) and heights[k] != heights[after]:
            share = heights[k] / (heights[k] - heights[after])
            kept.append(polygon[k] + share * (polygon[after] - polygon[k]))
    return np.array(kept).reshape(-1, 2)


def chord_of(polygon: np.ndarray, normal: np.ndarray, offset: float) -> tuple[np.ndarray, np.ndarray] | None:
    """Where the line normal . p = offset enters and leaves a convex polygon; None where it passes by."""
    heights = (polygon @ normal - offset).tolist()
    ends = []
    for k, height in enumerate(heights):
        after = (k + 1) % len(heights)
        if (height < 0) != (heights[after] < 0):
            share = height / (height - heights[after])
            ends.append(polygon[k] + share * (polygon[after] - polygon[k]))
    return (ends[0], ends[1]) if len(ends) == 2 else None


def polygon_area(polygon: np.ndarray) -> float:
    if len(polygon) < 3:
        return 0.0
    corners = polygon.tolist()  # of a few corners, hundreds of times a page
    after = corners[1:] + corners[:1]
    return abs(sum(x * next_y - y * next_x for (x, y), (next_x, next_y) in zip(corners, after, strict=True))) / 2


def perimeter(polygon: np.ndarray) -> float:
    run = np.roll(polygon, -1, axis=0) - polygon
    return float(np.hypot(run[:, 0], run[:, 1]).sum())


def shared_area(first: np.ndarray, second: np.ndarray) -> float:
    return float(cv2.intersectConvexConvex(first.astype(np.float32), second.astype(np.float32))[0])
