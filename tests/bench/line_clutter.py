"""Segments that belong to no direction of a set: chords of free curves, and hatching."""

import math

import numpy as np

CURVE_SHARE = 0.6


def clip_to_picture(a: np.ndarray, b: np.ndarray, size: tuple[int, int]) -> np.ndarray | None:
    """Liang-Barsky; (4,) or None where nothing is inside."""
    d, t0, t1 = b - a, 0.0, 1.0
    for p, q in ((-d[0], a[0]), (d[0], size[0] - a[0]), (-d[1], a[1]), (d[1], size[1] - a[1])):
        if abs(p) < 1e-12:
            if q < 0:
                return None
        elif p < 0:
            t0 = max(t0, q / p)
        else:
            t1 = min(t1, q / p)
    return None if t0 >= t1 else np.r_[a + t0 * d, a + t1 * d]


def clutter_segments(rng: np.random.Generator, count: int, size: tuple[int, int]) -> list[np.ndarray]:
    drawn: list[np.ndarray] = []
    while len(drawn) < CURVE_SHARE * count:
        drawn += _curve(rng, size)
    while len(drawn) < count:
        drawn += _hatching(rng, size)
    clipped = [clip_to_picture(segment[:2], segment[2:], size) for segment in drawn[:count]]
    return [segment for segment in clipped if segment is not None and np.hypot(*(segment[2:] - segment[:2])) > 4]


def _curve(rng: np.random.Generator, size: tuple[int, int]) -> list[np.ndarray]:
    centre, radius = rng.uniform((0, 0), size), rng.uniform(0.03, 0.22) * min(size)
    flatness, turn, start = rng.uniform(0.4, 1.0), rng.uniform(0, math.pi), rng.uniform(0, 2 * math.pi)
    span, chords = rng.uniform(0.8, 2 * math.pi), int(rng.integers(5, 14))
    t = start + np.linspace(0, span, chords + 1)
    x, y = radius * np.cos(t), flatness * radius * np.sin(t)
    c, s = math.cos(turn), math.sin(turn)
    points = np.c_[centre[0] + x * c - y * s, centre[1] + x * s + y * c] + rng.normal(0, 0.5, (chords + 1, 2))
    return [np.r_[points[i], points[i + 1]] for i in range(chords)]


def _hatching(rng: np.random.Generator, size: tuple[int, int]) -> list[np.ndarray]:
    centre, angle = rng.uniform((0, 0), size), rng.uniform(0, math.pi)
    length, spacing, count = rng.uniform(15, 60), rng.uniform(4, 9), int(rng.integers(6, 20))
    along, across = np.array([math.cos(angle), math.sin(angle)]), np.array([-math.sin(angle), math.cos(angle)])
    strokes = []
    for i in range(count):
        middle = centre + across * spacing * (i - count / 2) + along * rng.normal(0, 3)
        turn = rng.normal(0, math.radians(2))
        c, s = math.cos(turn), math.sin(turn)
        way = np.array([along[0] * c - along[1] * s, along[0] * s + along[1] * c]) * length * rng.uniform(0.7, 1.2) / 2
        strokes.append(np.r_[middle - way, middle + way])
    return strokes
