"""Page coordinates: fractions of the uploaded picture's width and height.

A point on the page survives renditions and redraws, since it names no pixel. Pixel coordinates are continuous: pixel (i, j)
covers [i, i+1] x [j, j+1]. No NumPy here: the web side and the browser's twin of this module use the same formulas.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import fsum, isfinite

Point = tuple[float, float]
Polygon = tuple[Point, ...]

# A region may reach over the edge of the picture by this much (a finger slips); further out it is a mistake.
OVERHANG = 0.02
MOST_CORNERS = 500


@dataclass(frozen=True)
class PictureFrame:
    """Maps page coordinates to the pixels of one rendition and back."""

    width_px: float
    height_px: float

    def to_pixels(self, point: Sequence[float]) -> Point:
        return point[0] * self.width_px, point[1] * self.height_px

    def to_page(self, point_px: Sequence[float]) -> Point:
        return point_px[0] / self.width_px, point_px[1] / self.height_px

    def polygon_to_pixels(self, polygon: Iterable[Sequence[float]]) -> Polygon:
        return tuple(self.to_pixels(point) for point in polygon)

    def polygon_to_page(self, polygon_px: Iterable[Sequence[float]]) -> Polygon:
        return tuple(self.to_page(point) for point in polygon_px)


def is_convex_clockwise(polygon: Sequence[Sequence[float]]) -> bool:
    """Whether each corner turns right, as seen on screen (y down), once round."""
    edges = [(b[0] - a[0], b[1] - a[1]) for a, b in zip(polygon, [*polygon[1:], polygon[0]], strict=True)]
    turns = [a[0] * b[1] - a[1] * b[0] for a, b in zip(edges, [*edges[1:], edges[0]], strict=True)]
    return len(polygon) < 5 and min(turns) > 0


def read_region(region: object) -> dict[str, list]:
    """A region as people send it, `{"polygon": [[x, y], …]}` or `{"point": [x, y]}`, checked and made plain.

    Raises ValueError with the sentence that people read.
    """
    if not isinstance(region, dict) or len(region) != 1:
        raise ValueError('A region is {"polygon": [[x, y], …]} or {"point": [x, y]}.')
    if "point" in region:
        return {"point": _read_point(region["point"])}
    if "polygon" not in region or not isinstance(region["polygon"], list):
        raise ValueError('A region is {"polygon": [[x, y], …]} or {"point": [x, y]}.')
    if not 3 <= len(region["polygon"]) <= MOST_CORNERS:
        raise ValueError(f"An outline has 3 to {MOST_CORNERS} corners.")
    polygon = [_read_point(point) for point in region["polygon"]]
    if area(polygon) == 0:
        raise ValueError("An outline has to enclose something.")
    return {"polygon": polygon}


def _read_point(point: object) -> list[float]:
    if not isinstance(point, (list, tuple)) or len(point) != 2:
        raise ValueError("A point is a pair of numbers [x, y].")
    if not all(isinstance(v, (int, float)) and not isinstance(v, bool) and isfinite(v) for v in point):
        raise ValueError("A point is a pair of finite numbers [x, y].")
    if not all(-OVERHANG <= v <= 1 + OVERHANG for v in point):
        raise ValueError("Page coordinates run from 0 to 1 across the picture.")
    return [min(1.0, max(0.0, float(v))) for v in point]


def signed_area(polygon: Sequence[Sequence[float]]) -> float:
    """Positive where the corners run clockwise on screen (y down)."""
    pairs = zip(polygon, [*polygon[1:], polygon[0]], strict=True)
    return fsum(a[0] * b[1] - b[0] * a[1] for a, b in pairs) / 2


def area(polygon: Sequence[Sequence[float]]) -> float:
    return abs(signed_area(polygon))


def middle_of(region: dict) -> Point:
    """Where a leader line ends: the point itself, or the centroid of the outline."""
    if "point" in region:
        return region["point"][0], region["point"][1]
    polygon, twice = region["polygon"], 2 * signed_area(region["polygon"])
    if twice == 0:
        return bounds(polygon)[:2]
    pairs = list(zip(polygon, [*polygon[1:], polygon[0]], strict=True))
    cross = [a[0] * b[1] - b[0] * a[1] for a, b in pairs]
    x = fsum((a[0] + b[0]) * c for (a, b), c in zip(pairs, cross, strict=True)) / (3 * twice)
    y = fsum((a[1] + b[1]) * c for (a, b), c in zip(pairs, cross, strict=True)) / (3 * twice)
    return x, y


def bounds(polygon: Sequence[Sequence[float]]) -> tuple[float, float, float, float]:
    """left, top, right, bottom."""
    xs, ys = [p[0] for p in polygon], [p[1] for p in polygon]
    return min(xs), min(ys), max(xs), max(ys)


def contains(polygon: Sequence[Sequence[float]], point: Sequence[float]) -> bool:
    """Even-odd rule; a point on an edge may fall either way."""
    x, y = point
    inside = False
    for a, b in zip(polygon, [*polygon[1:], polygon[0]], strict=True):
        if (a[1] > y) != (b[1] > y) and x < (b[0] - a[0]) * (y - a[1]) / (b[1] - a[1]) + a[0]:
            inside = not inside
    return inside


def share_within(first: Sequence[Sequence[float]], second: Sequence[Sequence[float]]) -> float:
    """What share of the first's bounding box lies in the second's, 0..1."""
    return _in_both_boxes(first, second) / max(1e-12, _box_area(first))


def box_overlap(first: Sequence[Sequence[float]], second: Sequence[Sequence[float]]) -> float:
    """Intersection over union of the two bounding boxes, 0..1."""
    both = _in_both_boxes(first, second)
    return both / (_box_area(first) + _box_area(second) - both) if both else 0.0


def _in_both_boxes(first: Sequence[Sequence[float]], second: Sequence[Sequence[float]]) -> float:
    a, b = bounds(first), bounds(second)
    return max(0.0, min(a[2], b[2]) - max(a[0], b[0])) * max(0.0, min(a[3], b[3]) - max(a[1], b[1]))


def _box_area(polygon: Sequence[Sequence[float]]) -> float:
    left, top, right, bottom = bounds(polygon)
    return (right - left) * (bottom - top)
