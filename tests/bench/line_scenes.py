"""Line drawings of boxes and a tiled floor from a known camera, as a hand draws them: missing, broken and turned lines, clutter.

Cases: "1pt", one wall plane parallel to the picture (one finite vanishing point); "2pt", a level camera turned by 15-75°; "3pt", a
camera also pitched by 8-35°. Clutter is the share of segments that belong to nothing: chords of free curves, and hatching.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from tests.bench.line_clutter import clip_to_picture, clutter_segments

SIZES = [(1280, 720), (1024, 768), (800, 1000), (1600, 900)]
UP = np.array([0.0, -1.0, 0.0])
AXES = np.array([[1.0, 0, 0], [0, -1.0, 0], [0, 0, 1.0]])


@dataclass(frozen=True)
class Hand:
    """How a hand draws: share of lines missing, angle noise of one line, the turn of a whole box, cut-off of the picture."""

    missing: float = 0.25
    angle_deg: float = 0.35
    box_deg: float = 0.0
    off_centre: float = 0.0  # of the picture's width


USUAL_HAND = Hand()
LOOSE_HAND = Hand(missing=0.60, angle_deg=1.0, box_deg=1.0, off_centre=0.05)


@dataclass(frozen=True)
class LineScene:
    segments: np.ndarray  # (N, 4) px
    labels: np.ndarray  # (N,) 0, 1, 2: world x, y, z; 3: a further level direction; 4: its normal; -1: clutter
    size: tuple[int, int]
    K: np.ndarray
    R_world_to_camera: np.ndarray

    @property
    def vanishing_points(self) -> np.ndarray:
        """(3, 3) homogeneous px of world x, y, z."""
        return (self.K @ self.R_world_to_camera @ np.array([AXES[0], UP, AXES[2]]).T).T

    @property
    def horizon_ends(self) -> tuple[float, float]:
        a, b, c = np.linalg.inv(self.K).T @ (self.R_world_to_camera @ UP)
        return -c / b, -(a * self.size[0] + c) / b


def rotation(yaw: float, pitch: float, roll: float) -> np.ndarray:
    """World (x right, y down, z forward) to camera; radians."""
    cy, sy, cp, sp, cr, sr = (f(v) for v in (yaw, pitch, roll) for f in (math.cos, math.sin))
    Ry = np.array([[cy, 0, sy], [0, 1, 0], [-sy, 0, cy]])
    Rx = np.array([[1, 0, 0], [0, cp, -sp], [0, sp, cp]])
    Rz = np.array([[cr, -sr, 0], [sr, cr, 0], [0, 0, 1]])
    return Rz @ Rx @ Ry


class Sketch:
    """Collects projected lines with their direction's label."""

    def __init__(self, rng: np.random.Generator, K: np.ndarray, R: np.ndarray, size: tuple[int, int]) -> None:
        self.rng, self.K, self.R, self.size = rng, K, R, size
        self.segments: list[np.ndarray] = []
        self.labels: list[int] = []

    def line(self, a: np.ndarray, b: np.ndarray, label: int) -> None:
        """Projects a world segment (the camera stands at the origin), cut at the near plane and at the picture's edge."""
        ends, near = np.array([self.R @ a, self.R @ b]), 0.2
        if max(ends[:, 2]) < near:
            return
        for i in (0, 1):
            if ends[i, 2] < near:
                t = (near - ends[i, 2]) / (ends[1 - i, 2] - ends[i, 2])
                ends[i] = ends[i] + t * (ends[1 - i] - ends[i])
        pixels = (self.K @ ends.T).T
        pixels = pixels[:, :2] / pixels[:, 2:]
        segment = clip_to_picture(pixels[0], pixels[1], self.size)
        if segment is not None and np.hypot(*(segment[2:] - segment[:2])) > 12:
            self.segments.append(segment)
            self.labels.append(label)

    def box(
        self, corner: np.ndarray, extent: Sequence[float], frame: np.ndarray, labels: tuple[int, int, int], doors: bool
    ) -> None:
        edges = [frame[i] * extent[i] for i in range(3)]

        def at(i: float, j: float, k: float) -> np.ndarray:
            return corner + i * edges[0] + j * edges[1] + k * edges[2]

        for j in (0, 1):
            for k in (0, 1):
                self.line(at(0, j, k), at(1, j, k), labels[0])
                self.line(at(j, 0, k), at(j, 1, k), labels[1])
                self.line(at(j, k, 0), at(j, k, 1), labels[2])
        if doors:
            for face in (0, 2):
                self._openings(at, face, labels)

    def _openings(self, at, face: int, labels: tuple[int, int, int]) -> None:
        count = self.rng.integers(1, 4)
        for t in np.linspace(0.12, 0.75, count):
            width, sill, lintel = self.rng.uniform(0.08, 0.16), self.rng.uniform(0.0, 0.35), self.rng.uniform(0.5, 0.8)
            spot = (lambda u, v: at(u, v, 0)) if face == 0 else (lambda u, v: at(0, v, u))
            for height in (sill, lintel):
                self.line(spot(t, height), spot(t + width, height), labels[face])
            for side in (t, t + width):
                self.line(spot(side, sill), spot(side, lintel), labels[1])


def line_scene(case: str, clutter: float, seed: Sequence[int], hand: Hand = USUAL_HAND) -> LineScene:
    rng = np.random.default_rng(seed)
    size = SIZES[int(rng.integers(len(SIZES)))]
    K, R, pitch = _camera(rng, case, size, hand)
    sketch = Sketch(rng, K, R, size)
    _draw_set(sketch, pitch, hand)
    segments, labels = np.array(sketch.segments).reshape(-1, 4), np.array(sketch.labels, int)
    kept = rng.random(len(segments)) > hand.missing
    drawn, drawn_labels = _by_hand(rng, segments[kept], labels[kept], hand)
    strays = clutter_segments(rng, round(len(drawn) * clutter / max(1e-9, 1 - clutter)), size)
    all_segments = np.array([*drawn, *strays]).reshape(-1, 4)
    all_labels = np.array([*drawn_labels, *[-1] * len(strays)], int)
    order = rng.permutation(len(all_segments))
    return LineScene(all_segments[order], all_labels[order], size, K, R)


def _camera(rng: np.random.Generator, case: str, size: tuple[int, int], hand: Hand) -> tuple[np.ndarray, np.ndarray, float]:
    focal_px = size[0] * math.exp(rng.uniform(math.log(0.6), math.log(2.5)))
    yaw = pitch = roll = 0.0
    if case == "2pt":
        yaw, roll = math.radians(rng.uniform(15, 75)), math.radians(rng.uniform(-3, 3))
    elif case == "3pt":
        yaw = math.radians(rng.uniform(15, 75))
        pitch = math.radians(rng.uniform(8, 35)) * rng.choice([-1, 1])
        roll = math.radians(rng.uniform(-5, 5))
    centre = np.array(size) / 2
    if hand.off_centre:
        centre = centre + rng.normal(0, hand.off_centre, 2) * size[0]
    K = np.array([[focal_px, 0, centre[0]], [0, focal_px, centre[1]], [0, 0, 1.0]])
    return K, rotation(yaw, pitch, roll), pitch


def _draw_set(sketch: Sketch, pitch: float, hand: Hand) -> None:
    rng, (w, _), focal_px = sketch.rng, sketch.size, sketch.K[0, 0]
    ahead = sketch.R.T @ np.array([0, 0, 1.0])
    forward = np.array([ahead[0], 0, ahead[2]]) / math.hypot(ahead[0], ahead[2])
    side = np.array([forward[2], 0, -forward[0]])
    eye_m, half_width, scale = rng.uniform(1.2, 2.2), (w / 2) / focal_px, max(focal_px / w, 0.6)
    rise = math.tan(abs(pitch)) * (1 if pitch > 0 else -1) if pitch else 0.0
    for _ in range(int(rng.integers(4, 9))):
        depth = rng.uniform(4, 18) * scale
        corner = forward * depth + side * rng.uniform(-1, 1) * depth * half_width + UP * (-eye_m)
        height = rng.uniform(0.8, 7) * scale
        if pitch:
            corner = corner + UP * depth * rise * rng.uniform(0.2, 1.0)
        turn = rotation(*rng.normal(0, math.radians(hand.box_deg), 3)) if hand.box_deg else np.eye(3)
        sketch.box(corner, (rng.uniform(1, 5) * scale, height, rng.uniform(1, 5) * scale), AXES @ turn.T, (0, 1, 2), doors=True)
    _floor(sketch, forward, eye_m, rise, scale)
    _turned_box(sketch, forward, side, half_width, eye_m, rise, scale)


def _floor(sketch: Sketch, forward: np.ndarray, eye_m: float, rise: float, scale: float) -> None:
    count = int(sketch.rng.integers(5, 11))
    step, depth = sketch.rng.uniform(0.5, 1.2) * scale, sketch.rng.uniform(4, 9) * scale
    base = forward * depth + UP * (-eye_m + depth * rise - 0.2)
    half = count * step / 2
    for i in range(count):
        t = (i - count / 2) * step
        sketch.line(base + AXES[0] * t - AXES[2] * half, base + AXES[0] * t + AXES[2] * half, 2)
        sketch.line(base + AXES[2] * t - AXES[0] * half, base + AXES[2] * t + AXES[0] * half, 0)


def _turned_box(
    sketch: Sketch, forward: np.ndarray, side: np.ndarray, half_width: float, eye_m: float, rise: float, scale: float
) -> None:
    """In two of five scenes one box stands turned: a further level direction."""
    rng = sketch.rng
    turn = math.radians(rng.uniform(25, 65))
    if rng.random() >= 0.4:
        return
    frame = np.array([[math.cos(turn), 0, math.sin(turn)], [0, -1, 0], [-math.sin(turn), 0, math.cos(turn)]])
    depth = rng.uniform(5, 12) * scale
    corner = forward * depth + side * rng.uniform(-0.6, 0.6) * depth * half_width + UP * (-eye_m + depth * rise)
    sketch.box(corner, (1.5 * scale, 1.2 * scale, 1.5 * scale), frame, (3, 1, 4), doors=False)


def _by_hand(rng: np.random.Generator, segments: np.ndarray, labels: np.ndarray, hand: Hand) -> tuple[list, list]:
    """Over- and undershot, broken in two, turned a little, shifted a little."""
    drawn, drawn_labels = [], []
    for segment, label in zip(segments, labels, strict=True):
        along = segment[2:] - segment[:2]
        length = np.hypot(*along)
        cuts = np.linspace(0, 1, 2 if length < 120 or rng.random() < 0.6 else 3)
        for start, end in zip(cuts[:-1], cuts[1:], strict=True):
            stroke = _stroke(rng, segment[:2], along, start, end, hand)
            if stroke is not None:
                drawn.append(stroke)
                drawn_labels.append(label)
    return drawn, drawn_labels


def _stroke(
    rng: np.random.Generator, origin: np.ndarray, along: np.ndarray, start: float, end: float, hand: Hand
) -> np.ndarray | None:
    start, end = start + rng.normal(0, 0.02), end + rng.normal(0, 0.02)
    p, q = origin + start * along, origin + end * along
    length = np.hypot(*(q - p))
    if length < 8:
        return None
    turn = rng.normal(0, math.radians(hand.angle_deg) + 0.6 / length)
    middle, half = (p + q) / 2 + rng.normal(0, 0.5, 2), (q - p) / 2
    half = np.array([half[0] * math.cos(turn) - half[1] * math.sin(turn), half[0] * math.sin(turn) + half[1] * math.cos(turn)])
    return np.r_[middle - half, middle + half]
