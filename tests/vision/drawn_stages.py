"""Two stages of one drawn page with the exact map between them: a pencil, and the painted page made over it."""

from dataclasses import dataclass

import cv2
import numpy as np

WIDTH, HEIGHT = 600, 840
FRAMES = ((30, 30, 540, 250), (30, 300, 255, 230), (305, 300, 265, 230), (30, 550, 540, 260))  # left, top, width, height


@dataclass(frozen=True)
class Shape:
    """A closed outline in px of the page, with its tone when painted."""

    outline: np.ndarray
    tone: int


def frame_polygons() -> list[np.ndarray]:
    return [np.array([[x, y], [x + w, y], [x + w, y + h], [x, y + h]], float) for x, y, w, h in FRAMES]


def drawn_shapes(seed: int, frames=FRAMES, per_panel: int = 14) -> list[list[Shape]]:
    """Blobs and polygons, some for each frame."""
    rng = np.random.default_rng(seed)
    return [[_shape(rng, frame) for _ in range(per_panel)] for frame in frames]


def _shape(rng, frame) -> Shape:
    left, top, width, height = frame
    turns = np.sort(rng.uniform(0, 2 * np.pi, rng.integers(5, 11)))
    radius = rng.uniform(0.06, 0.22) * height * rng.uniform(0.6, 1.3, len(turns))
    middle = np.array([left, top]) + rng.uniform(0.1, 0.9, 2) * [width, height]
    return Shape(middle + radius[:, None] * np.stack([np.cos(turns), np.sin(turns)], -1), int(rng.integers(40, 220)))


def draw_pencil(panels: list[list[Shape]], frames=FRAMES) -> np.ndarray:
    """Grey outlines on white."""
    return _drawn(panels, frames, ground=250, filled=False)


def draw_painted(panels: list[list[Shape]], frames=FRAMES) -> np.ndarray:
    """Toned shapes on a dark ground."""
    return _drawn(panels, frames, ground=90, filled=True)


def _drawn(panels, frames, ground: int, filled: bool) -> np.ndarray:
    page = np.full((HEIGHT, WIDTH), 255, np.uint8)
    for shapes, (left, top, width, height) in zip(panels, frames, strict=True):
        panel = np.full((height, width), ground, np.uint8)
        for shape in shapes:
            corners = [np.round((shape.outline - [left, top] - 0.5) * 16).astype(np.int32)]
            if filled:
                cv2.fillPoly(panel, corners, shape.tone, cv2.LINE_AA, 4)
            cv2.polylines(panel, corners, True, 20 if filled else 110, 2, cv2.LINE_AA, 4)
        cv2.rectangle(panel, (0, 0), (width - 1, height - 1), 30, 2)
        page[top : top + height, left : left + width] = panel
    return page


def turned(turn_deg: float = 0, scale: float = 1, shift=(0, 0), tilt=(0, 0)) -> np.ndarray:
    """A homography about the middle of the page, in continuous px: tilt in shares of the scale across the page."""
    c, s = scale * np.cos(np.radians(turn_deg)), scale * np.sin(np.radians(turn_deg))
    middle = np.array([[1, 0, -WIDTH / 2], [0, 1, -HEIGHT / 2], [0, 0, 1.0]])
    back = np.array([[1, 0, WIDTH / 2 + shift[0]], [0, 1, HEIGHT / 2 + shift[1]], [0, 0, 1.0]])
    keystone = np.array([[1, 0, 0], [0, 1, 0], [tilt[0] / WIDTH, tilt[1] / HEIGHT, 1.0]])
    return back @ keystone @ np.array([[c, -s, 0], [s, c, 0], [0, 0, 1.0]]) @ middle


def scanned(page: np.ndarray, H: np.ndarray, size=(WIDTH, HEIGHT), ground: int = 235) -> np.ndarray:
    """The page as it lies after H, which is in continuous px; OpenCV counts pixel middles."""
    half = np.array([[1, 0, 0.5], [0, 1, 0.5], [0, 0, 1.0]])
    return cv2.warpPerspective(page, np.linalg.inv(half) @ H @ half, size, flags=cv2.INTER_LINEAR, borderValue=ground)


def mapped(H: np.ndarray, points: np.ndarray) -> np.ndarray:
    return cv2.perspectiveTransform(np.asarray(points, float)[None], H)[0]


def page_points(count: int = 60, seed: int = 5) -> np.ndarray:
    return np.random.default_rng(seed).uniform([40, 40], [WIDTH - 40, HEIGHT - 40], (count, 2))


def noisy(page: np.ndarray, seed: int, sigma: float = 10) -> np.ndarray:
    return np.clip(page + np.random.default_rng(seed).normal(0, sigma, page.shape), 0, 255).astype(np.uint8)


def shaded(page: np.ndarray, least: float = 0.4) -> np.ndarray:
    """Lit from one side and from below."""
    height, width = page.shape
    return (page * np.linspace(1, least, width)[None] * np.linspace(0.8, 1, height)[:, None]).astype(np.uint8)
