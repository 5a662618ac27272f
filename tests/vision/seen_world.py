"""Segments of right-angled boxes as an exact camera sees them, with as much of a hand's error as asked for."""

import numpy as np

from board.vision.camera import Camera

SIZE = (1200, 900)


def edges_of_box(corner: np.ndarray, size: np.ndarray) -> np.ndarray:
    """(12, 2, 3): the edges of an upright box, four for each of its three directions."""
    edges = []
    for axis in range(3):
        for a in (0, 1):
            for b in (0, 1):
                edges.append([corner + np.insert([a, b], axis, 0) * size, corner + np.insert([a, b], axis, 1) * size])
    return np.array(edges, float)


def segments_of_boxes(camera: Camera, seed: int, boxes: int = 10) -> np.ndarray:
    """(N, 4) px: edges of boxes that stand about the middle of what the camera sees, at several distances."""
    rng = np.random.default_rng(seed)
    ahead = camera.R_world_to_camera[2]
    found = []
    for _ in range(boxes):
        middle = ahead * rng.uniform(5, 14) + rng.uniform(-2.2, 2.2, 3)
        size = rng.uniform(0.6, 2.5, 3)
        ends = camera.project(edges_of_box(middle - size / 2, size).reshape(-1, 3)).reshape(-1, 4)
        found.append(ends)
    segments = np.concatenate(found)
    inside = (np.abs(segments - np.tile(camera.principal_px, 2)) < 2000).all(1)
    long = np.hypot(segments[:, 2] - segments[:, 0], segments[:, 3] - segments[:, 1]) > 15
    return segments[inside & long]


def with_hand_noise(segments: np.ndarray, noise_deg: float, seed: int) -> np.ndarray:
    """Each segment turned about its middle by a normal error."""
    return turned_in_picture(segments, np.random.default_rng(seed).normal(0, noise_deg, len(segments)))


def turned_in_picture(segments: np.ndarray, degrees: np.ndarray) -> np.ndarray:
    """Each of segments (N, 4) turned about its middle by its own (N,) degrees, clockwise as seen."""
    middle, half = (segments[:, :2] + segments[:, 2:]) / 2, (segments[:, 2:] - segments[:, :2]) / 2
    cos, sin = np.cos(np.radians(degrees)), np.sin(np.radians(degrees))
    turned = np.stack([half[:, 0] * cos - half[:, 1] * sin, half[:, 0] * sin + half[:, 1] * cos], axis=1)
    return np.concatenate([middle - turned, middle + turned], axis=1)


def angle_between_deg(first: np.ndarray, second: np.ndarray, K: np.ndarray) -> float:
    """Between two homogeneous points, as the camera with matrix K sees them."""
    a, b = np.linalg.solve(K, first), np.linalg.solve(K, second)
    cosine = abs(a @ b) / np.linalg.norm(a) / np.linalg.norm(b)
    sine = np.linalg.norm(np.cross(a, b)) / np.linalg.norm(a) / np.linalg.norm(b)
    return float(np.degrees(np.arctan2(sine, cosine)))
