"""What stands in the panels of a drawn layout: rooms, figures, tones, scribble, balloons."""

import cv2
import numpy as np


def draw_scene(gray: np.ndarray, polygon: np.ndarray, rng: np.random.Generator, content: str) -> None:
    """Fills a panel, clipped to its polygon."""
    mask = np.zeros(gray.shape, np.uint8)
    cv2.fillPoly(mask, [np.round(polygon * 16).astype(np.int32)], 1, shift=4)
    layer = {"line": _line_art, "tone": _tone, "scribble": _scribble, "boards": _boards}[content](gray.shape, polygon, rng)
    gray[mask > 0] = layer[mask > 0]


def _line_art(shape: tuple[int, int], polygon: np.ndarray, rng: np.random.Generator) -> np.ndarray:
    """White with a horizon, a door of straight lines that run to the border, and figures."""
    layer = np.full(shape, 255, np.uint8)
    low, high = polygon.min(axis=0), polygon.max(axis=0)
    size = high - low
    ground = int(low[1] + rng.uniform(0.5, 0.8) * size[1])
    cv2.line(layer, (int(low[0]) - 5, ground), (int(high[0]) + 5, ground + int(rng.integers(-20, 20))), 20, 2, cv2.LINE_AA)
    for share in rng.uniform(0.1, 0.9, 2):
        x = int(low[0] + share * size[0])
        cv2.line(layer, (x, int(low[1]) - 5), (x, ground), 20, 2, cv2.LINE_AA)
    _figures(layer, low, size, rng, int(rng.integers(1, 4)))
    return layer


def _boards(shape: tuple[int, int], polygon: np.ndarray, rng: np.random.Generator) -> np.ndarray:
    """Line art with a table's edge or a boarded wall: parallel lines as near as a gutter's flanks, right across the panel."""
    layer = _line_art(shape, polygon, rng)
    low, high = polygon.min(axis=0), polygon.max(axis=0)
    level, apart = low[1] + rng.uniform(0.25, 0.6) * (high[1] - low[1]), rng.uniform(9, 30)
    for k in range(int(rng.integers(2, 6))):
        y = round(float(level + k * apart))
        cv2.line(layer, (int(low[0]) - 5, y), (int(high[0]) + 5, y), 20, 2, cv2.LINE_AA)
    return layer


def _tone(shape: tuple[int, int], polygon: np.ndarray, rng: np.random.Generator) -> np.ndarray:
    """Painted: a slow gradient with soft shapes, now and then as light as paper inside."""
    low, high = polygon.min(axis=0), polygon.max(axis=0)
    size = high - low
    base, fall = rng.uniform(60, 210), rng.uniform(-50, 50)
    layer = np.tile((base + fall * np.linspace(-1, 1, shape[0]))[:, None], (1, shape[1]))
    layer = np.clip(layer + rng.normal(0, 2, shape), 5, 238).astype(np.uint8)
    for _ in range(8):
        middle = np.round(low + rng.uniform(0, 1, 2) * size).astype(int).tolist()
        axes = np.round(rng.uniform(0.05, 0.3, 2) * size.min()).astype(int).tolist()
        cv2.ellipse(layer, middle, axes, float(rng.uniform(0, 180)), 0, 360, int(rng.integers(10, 238)), -1, cv2.LINE_AA)
    inner = np.round(low + rng.uniform(0.3, 0.7, 2) * size).astype(int).tolist()
    cv2.circle(layer, inner, round(0.12 * size.min()), 255, -1, cv2.LINE_AA)
    return layer


def _scribble(shape: tuple[int, int], polygon: np.ndarray, rng: np.random.Generator) -> np.ndarray:
    """A thumbnail: loose strokes on paper."""
    layer = np.full(shape, 255, np.uint8)
    low, size = polygon.min(axis=0), np.ptp(polygon, axis=0)
    for _ in range(6):
        walk = np.cumsum(rng.normal(0, 0.12, (12, 2)), axis=0) * size * 0.5 + low + rng.uniform(0.25, 0.75, 2) * size
        cv2.polylines(layer, [np.round(walk).astype(np.int32)], False, int(rng.integers(60, 130)), 2, cv2.LINE_AA)
    return layer


def _figures(layer: np.ndarray, low: np.ndarray, size: np.ndarray, rng: np.random.Generator, count: int) -> None:
    for _ in range(count):
        tall = rng.uniform(0.4, 0.8) * min(size[1], 2 * size[0])
        foot = low + (rng.uniform(0.2, 0.8) * size[0], rng.uniform(0.85, 0.98) * size[1])
        head = foot - (0, 0.88 * tall)
        cv2.ellipse(layer, _spot(head), _spot((0.09 * tall, 0.12 * tall)), 0, 0, 360, 20, 2, cv2.LINE_AA)
        body = np.array([head + (0, 0.12 * tall), foot - (0, 0.45 * tall), foot - (0.12 * tall, 0)])
        cv2.polylines(layer, [np.round(body).astype(np.int32)], False, 20, 3, cv2.LINE_AA)
        cv2.line(layer, _spot(body[1]), _spot(foot + (0.12 * tall, 0)), 20, 3, cv2.LINE_AA)
        cv2.line(layer, _spot(body[0] + (0, 0.08 * tall)), _spot(body[1] + (0.2 * tall, -0.1 * tall)), 20, 3, cv2.LINE_AA)


def draw_figures(gray: np.ndarray, polygon: np.ndarray, rng: np.random.Generator, ground: int) -> np.ndarray:
    """An open panel: figures side by side on the bare ground. Answers the box (4, 2) of what was drawn."""
    low, high = polygon.min(axis=0), polygon.max(axis=0)
    size = high - low
    before = gray.copy()
    ink = 20 if ground > 60 else 235
    for share in np.arange(0.1, 0.95, 0.2 * size[1] / size[0]):
        middle = low + size * (min(share, 0.9), rng.uniform(0.45, 0.55))
        axes = size[1] * np.array([0.11, 0.38]) * rng.uniform(0.9, 1.1)
        axes[0] = min(axes[0], 0.09 * size[0])
        cv2.ellipse(gray, _spot(middle), _spot(axes), 0, 0, 360, int(rng.integers(90, 170)), -1, cv2.LINE_AA)
        cv2.ellipse(gray, _spot(middle), _spot(axes), 0, 0, 360, ink, 3, cv2.LINE_AA)
    rows, columns = np.flatnonzero((gray != before).any(axis=1)), np.flatnonzero((gray != before).any(axis=0))
    left, right, top, bottom = columns[0], columns[-1] + 1, rows[0], rows[-1] + 1
    return np.array([[left, top], [right, top], [right, bottom], [left, bottom]], float)


def draw_balloon(gray: np.ndarray, middle: np.ndarray, axes: np.ndarray, rng: np.random.Generator) -> None:
    cv2.ellipse(gray, _spot(middle), _spot(axes), 0, 0, 360, 255, -1, cv2.LINE_AA)
    if rng.random() < 0.5:
        cv2.ellipse(gray, _spot(middle), _spot(axes), 0, 0, 360, 10, 2, cv2.LINE_AA)
    for row in (-0.4, 0.0, 0.4):
        x = np.arange(middle[0] - 0.6 * axes[0], middle[0] + 0.55 * axes[0], 9)
        for word in x[rng.random(len(x)) < 0.8]:
            spot = np.array([word, middle[1] + row * axes[1]])
            cv2.line(gray, _spot(spot), _spot(spot + (5, 0)), 10, 3)


def _spot(point: np.ndarray | tuple[float, float]) -> tuple[int, int]:
    return round(float(point[0])), round(float(point[1]))
