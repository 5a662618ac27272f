"""Page layouts drawn from a seed, with their exact panels: slanted, wobbly, broken, bleeding, inset, open, dark, scanned."""

from dataclasses import dataclass, field

import cv2
import numpy as np

from tests.vision.drawn_contents import draw_balloon, draw_figures, draw_scene

Box = tuple[float, float, float, float]


@dataclass(frozen=True)
class LayoutStyle:
    """What a drawn page is like; lengths are shares of the page's height."""

    width: int = 1000
    height: int = 1414
    tiers: tuple[int, int] = (2, 4)
    columns: tuple[int, int] = (1, 3)
    gutter: tuple[float, float] = (0.006, 0.02)  # clear of the borders
    margin: float = 0.03  # 0 and below bleeds
    slant: float = 0.0  # how far a column's gutter leans, share of the tier's height
    tier_slant: float = 0.0
    border: str = "ruled"  # ruled | wobbly | broken | scribble | none
    border_width: tuple[float, float] = (0.0015, 0.004)
    content: str = "line"  # line | tone | scribble
    ground: int = 255
    balloons: int = 0  # over gutters
    inset: bool = False
    open_panel: bool = False
    scan: bool = False
    bleed: bool = False
    facing_pages: bool = False
    reading: str = "ltr"


@dataclass
class DrawnLayout:
    gray: np.ndarray
    panels: list[np.ndarray] = field(default_factory=list)  # (K, 2), reading order
    framed: list[bool] = field(default_factory=list)


def draw_layout(seed: int, style: LayoutStyle) -> DrawnLayout:
    rng = np.random.default_rng(seed)
    polygons = _page_polygons(rng, style)
    gray = np.full((style.height, style.width), style.ground, np.uint8)
    opened = int(rng.integers(len(polygons))) if style.open_panel and len(polygons) > 1 else -1
    boxes = []
    for k, polygon in enumerate(polygons):
        if k == opened:
            drawn = draw_figures(gray, polygon, rng, style.ground)
            # Beside framed panels an open one has the room that they leave; alone in its tier it is what is drawn.
            boxes.append(polygon if any(_same_tier(polygon, other) for other in polygons) else drawn)
            continue
        draw_scene(gray, polygon, rng, style.content)
        boxes.append(_grown(polygon, _draw_border(gray, polygon, rng, style) / 2))
    for _ in range(style.balloons):
        _balloon_over_gutter(gray, polygons, rng)
    framed = [k != opened for k in range(len(polygons))]
    if style.inset:
        _draw_inset(gray, boxes, framed, rng, style)
    return DrawnLayout(_scanned(gray, rng) if style.scan else gray, boxes, framed)


def _same_tier(polygon: np.ndarray, other: np.ndarray) -> bool:
    return other is not polygon and np.isclose(polygon[0, 1], other[0, 1]) and np.isclose(polygon[2, 1], other[2, 1])


def _page_polygons(rng: np.random.Generator, style: LayoutStyle) -> list[np.ndarray]:
    """The panels of one page or of two facing ones, in reading order."""
    margin = style.margin * style.height
    if not style.facing_pages:
        polygons = _tiers(rng, style, (margin, margin, style.width - margin, style.height - margin))
    else:
        half = style.width / 2
        polygons = _tiers(rng, style, (margin, margin, half - margin, style.height - margin))
        polygons += _tiers(rng, style, (half + margin, margin, style.width - margin, style.height - margin))
    if style.reading == "rtl":
        polygons = [(polygon * (-1, 1) + (style.width, 0))[::-1] for polygon in polygons]
    return polygons


def _tiers(rng: np.random.Generator, style: LayoutStyle, box: Box) -> list[np.ndarray]:
    left, top, right, bottom = box
    count = int(rng.integers(style.tiers[0], style.tiers[1] + 1))
    gutter = (rng.uniform(*style.gutter) + style.border_width[1]) * style.height
    cuts = top + _shares(rng, count) * (bottom - top)
    leans = [0.0, *(rng.uniform(-1, 1, count - 1) * style.tier_slant * (bottom - top) / count), 0.0]
    polygons = []
    for k in range(count):
        upper = cuts[k] + (gutter / 2 if k else 0), leans[k]
        lower = cuts[k + 1] - (gutter / 2 if k < count - 1 else 0), leans[k + 1]
        reach = (0, style.width) if style.bleed and rng.random() < 0.5 else (left, right)
        ends = (0.0 if style.bleed and k == 0 else upper[0]), (style.height if style.bleed and k == count - 1 else lower[0])
        polygons += _columns(rng, style, reach, (ends[0], upper[1]), (ends[1], lower[1]))
    return polygons


def _columns(rng: np.random.Generator, style: LayoutStyle, reach: tuple[float, float], upper: tuple[float, float],
             lower: tuple[float, float]) -> list[np.ndarray]:
    left, right = reach
    count = int(rng.integers(style.columns[0], style.columns[1] + 1))
    gutter = (rng.uniform(*style.gutter) + style.border_width[1]) * style.height
    cuts = left + _shares(rng, count) * (right - left)
    lean = rng.uniform(-1, 1, count + 1) * style.slant * (lower[0] - upper[0])
    lean[0] = lean[-1] = 0

    def at(edge: tuple[float, float], x: float) -> tuple[float, float]:
        return x, edge[0] + edge[1] * ((x - left) / (right - left) - 0.5)

    polygons = []
    for k in range(count):
        near, far = (gutter / 2 if k else 0), (gutter / 2 if k < count - 1 else 0)
        corners = [at(upper, cuts[k] + lean[k] / 2 + near), at(upper, cuts[k + 1] + lean[k + 1] / 2 - far),
                   at(lower, cuts[k + 1] - lean[k + 1] / 2 - far), at(lower, cuts[k] - lean[k] / 2 + near)]
        polygons.append(np.array(corners))
    return polygons


def _shares(rng: np.random.Generator, count: int) -> np.ndarray:
    """0, …, 1: where `count` parts of uneven size end."""
    sizes = rng.uniform(0.7, 1.5, count)
    return np.concatenate([[0], np.cumsum(sizes) / sizes.sum()])


def _draw_border(gray: np.ndarray, polygon: np.ndarray, rng: np.random.Generator, style: LayoutStyle) -> float:
    """Draws along the sides of a panel and answers how wide, in px."""
    if style.border == "none":
        return 0.0
    width = max(1, round(rng.uniform(*style.border_width) * style.height))
    ink = 30 if style.ground > 60 else 225
    broken = int(rng.integers(len(polygon))) if style.border == "broken" else -1
    for k in range(len(polygon)):
        a, b = polygon[k], polygon[(k + 1) % len(polygon)]
        for stroke in _strokes(a, b, rng, style):
            if k == broken:
                middle, half = rng.uniform(0.3, 0.7), rng.uniform(0.05, 0.18)
                run = np.linspace(0, 1, len(stroke))
                parts = [stroke[run < middle - half], stroke[run > middle + half]]
            else:
                parts = [stroke]
            for part in parts:
                cv2.polylines(gray, [np.round(part * 16).astype(np.int32)], False, ink, width, cv2.LINE_AA, 4)
    return float(width)


def _grown(polygon: np.ndarray, by_px: float) -> np.ndarray:
    """The polygon with its sides moved outwards: a panel reaches to the outer edge of its border."""
    sides = np.roll(polygon, -1, axis=0) - polygon
    outward = np.stack([sides[:, 1], -sides[:, 0]], axis=1) / np.hypot(sides[:, 0], sides[:, 1])[:, None]
    if np.dot(outward[0], polygon[0] - polygon.mean(axis=0)) < 0:
        outward = -outward
    before = np.roll(outward, 1, axis=0)
    return polygon + by_px * (outward + before) / (1 + (outward * before).sum(axis=1))[:, None]


def _strokes(a: np.ndarray, b: np.ndarray, rng: np.random.Generator, style: LayoutStyle) -> list[np.ndarray]:
    """One side of a border as one or more strokes of a hand."""
    run = np.linspace(0, 1, 40)[:, None]
    line = a + run * (b - a)
    if style.border in ("ruled", "none"):
        return [line]
    across = np.array([a[1] - b[1], b[0] - a[0]]) / max(1e-9, float(np.hypot(*(b - a))))
    size = 0.0015 * style.height

    def wobble() -> np.ndarray:
        phase, waves = rng.uniform(0, 6.28, 3), rng.uniform(1, 5, 3)
        return sum(size / 2 * np.sin(w * 6.28 * run + p) for w, p in zip(waves, phase, strict=True))

    if style.border == "scribble":
        over = 0.008 * style.height * (b - a) / max(1e-9, float(np.hypot(*(b - a))))
        return [a - over * rng.uniform(0, 1) + run * (b - a + over) + across * (wobble() + rng.normal(0, size)) for _ in range(2)]
    return [line + across * wobble()]


def _balloon_over_gutter(gray: np.ndarray, polygons: list[np.ndarray], rng: np.random.Generator) -> None:
    """A balloon on a side of a panel, so that it reaches over the gutter."""
    polygon = polygons[int(rng.integers(len(polygons)))]
    k = int(rng.integers(4))
    middle = polygon[k] + rng.uniform(0.25, 0.75) * (polygon[(k + 1) % 4] - polygon[k])
    size = np.array([rng.uniform(0.05, 0.09), rng.uniform(0.025, 0.04)]) * gray.shape[0]
    draw_balloon(gray, middle, size, rng)


def _draw_inset(gray: np.ndarray, panels: list[np.ndarray], framed: list[bool], rng: np.random.Generator,
                style: LayoutStyle) -> None:
    """A small panel with a ring of ground about it in the lower outer corner of the largest panel."""
    host = max(range(len(panels)), key=lambda k: np.prod(np.ptp(panels[k], axis=0)) if framed[k] else 0)
    low, high = panels[host].min(axis=0), panels[host].max(axis=0)
    size = (high - low) * rng.uniform(0.3, 0.42, 2)
    far = high - (high - low) * rng.uniform(0.06, 0.12, 2)
    near = far - size
    ring = 0.008 * style.height
    cv2.rectangle(gray, np.round(near - ring).astype(int).tolist(), np.round(far + ring).astype(int).tolist(), style.ground, -1)
    polygon = np.array([near, (far[0], near[1]), far, (near[0], far[1])])
    draw_scene(gray, polygon, rng, style.content)
    width = _draw_border(gray, polygon, rng, LayoutStyle(height=style.height, ground=style.ground))
    panels.insert(host + 1, _grown(polygon, width / 2))
    framed.insert(host + 1, True)


def _scanned(gray: np.ndarray, rng: np.random.Generator) -> np.ndarray:
    """Uneven light, soft focus and noise of a scan or a phone's picture."""
    height, width = gray.shape
    x, y = np.meshgrid(np.linspace(-1, 1, width), np.linspace(-1, 1, height))
    light = 0.88 + 0.07 * rng.uniform(-1, 1) * x + 0.07 * rng.uniform(-1, 1) * y - 0.05 * (x * x + y * y) / 2
    soft = cv2.GaussianBlur(gray, (0, 0), 0.8).astype(float)
    return np.clip(soft * light + rng.normal(0, 2.0, gray.shape), 0, 255).astype(np.uint8)
