"""The order in which panels are read: tier by tier, and within a tier as the language runs."""

from dataclasses import dataclass

import numpy as np

from board.vision.convex_polygons import polygon_area, shared_area

OVERLAP = 0.15  # of the thinner panel: so far may a panel reach over the line that parts it from the next (wobble, figures)
STEEPEST_DEG = 45  # a gutter flatter than this parts tiers, a steeper one parts the panels of a tier
INSIDE = 0.6  # of an inset that lies on its host


@dataclass(frozen=True)
class ReadingOrder:
    indices: tuple[int, ...]
    doubtful: bool


def order_panels(polygons: list[np.ndarray], reading: str = "ltr") -> ReadingOrder:
    """Indices of `polygons` (each (K, 2), convex, y down) in reading order; doubtful where two readings are equally fair.

    Facing pages one after the other; tiers from the top; where no gutter runs across, columns; an inset after its host.
    Common practice, no source. Raises ValueError for another `reading` than "ltr" or "rtl".
    """
    if reading not in ("ltr", "rtl"):
        raise ValueError("reading is ltr or rtl")
    flip = -1.0 if reading == "rtl" else 1.0
    shapes = [np.asarray(polygon, float) * (flip, 1.0) for polygon in polygons]
    hosts = _hosts(shapes)
    free = [k for k in range(len(shapes)) if k not in hosts]
    indices, doubtful = _ordered_pages(free, shapes)
    for inset in sorted(hosts, key=lambda k: (shapes[k][:, 1].min(), shapes[k][:, 0].min()), reverse=True):
        indices.insert(indices.index(hosts[inset]) + 1, inset)
        doubtful |= _leads(shapes[inset], shapes[hosts[inset]])
    return ReadingOrder(tuple(indices), bool(doubtful))


def _hosts(shapes: list[np.ndarray]) -> dict[int, int]:
    """The free-standing panel that each inset lies on."""
    areas = [polygon_area(shape) for shape in shapes]
    by_size = sorted(range(len(shapes)), key=lambda k: -areas[k])
    hosts: dict[int, int] = {}
    for place, inset in enumerate(by_size):
        for host in by_size[:place]:
            if host not in hosts and shared_area(shapes[inset], shapes[host]) >= INSIDE * areas[inset] > 0:
                hosts[inset] = host
                break
    return hosts


def _leads(inset: np.ndarray, host: np.ndarray) -> bool:
    """Whether an inset stands in the corner where the reader enters its host."""
    middle = (inset.min(axis=0) + inset.max(axis=0)) / 2
    share = (middle - host.min(axis=0)) / np.maximum(np.ptp(host, axis=0), 1e-9)
    return bool((share < 0.35).all())


def _ordered_pages(group: list[int], shapes: list[np.ndarray]) -> tuple[list[int], bool]:
    """Facing pages are read one after the other: a wide picture that a gutter parts near its middle, from top to bottom."""
    if len(group) >= 4:
        corners = np.concatenate([shapes[k] for k in group])
        size = np.ptp(corners, axis=0)
        parts = _parted(group, shapes, 0.0, along=0)
        for count in range(2, len(group) - 1):
            first, rest = parts[0][:count], parts[0][count:]
            gap = min(shapes[k][:, 0].min() for k in rest) - max(shapes[k][:, 0].max() for k in first)
            middle = max(shapes[k][:, 0].max() for k in first) + gap / 2 - corners[:, 0].min()
            stacked = all(_first_tier(side, shapes)[1] for side in (first, rest))
            if size[0] > 1.15 * size[1] and gap >= 0 and abs(middle / size[0] - 0.5) < 0.06 and stacked:
                head, head_doubt = _ordered(first, shapes)
                tail, tail_doubt = _ordered(rest, shapes)
                return head + tail, head_doubt or tail_doubt
    return _ordered(group, shapes)


def _ordered(group: list[int], shapes: list[np.ndarray]) -> tuple[list[int], bool]:
    if len(group) < 2:
        return list(group), False
    for part in (_first_tier, _first_column):
        first, rest = part(group, shapes)
        if rest:
            head, head_doubt = _ordered(first, shapes)
            tail, tail_doubt = _ordered(rest, shapes)
            return head + tail, head_doubt or tail_doubt
    return _stepwise(group, shapes), True


def _first_tier(group: list[int], shapes: list[np.ndarray]) -> tuple[list[int], list[int]]:
    return _first_part(group, shapes, along=1)


def _first_column(group: list[int], shapes: list[np.ndarray]) -> tuple[list[int], list[int]]:
    return _first_part(group, shapes, along=0)


def _first_part(group: list[int], shapes: list[np.ndarray], along: int) -> tuple[list[int], list[int]]:
    """The smallest leading part of `group` that a line parts from the rest; (group, []) where no line does."""
    for slant_deg in sorted(range(-STEEPEST_DEG + 3, STEEPEST_DEG - 2, 3), key=abs):
        ordered, spans = _parted(group, shapes, float(slant_deg), along)
        for count in range(1, len(group)):
            first, rest = ordered[:count], ordered[count:]
            if all(_before(spans[a], spans[b]) for a in first for b in rest):
                return first, rest
    return list(group), []


def _parted(group: list[int], shapes: list[np.ndarray], slant_deg: float, along: int) -> tuple[list[int], dict]:
    """`group` sorted across a slanted line, and the span of each member across it."""
    slant = np.radians(slant_deg)
    normal = np.array([np.sin(slant), np.cos(slant)]) if along else np.array([np.cos(slant), np.sin(slant)])
    spans = {k: (float((shapes[k] @ normal).min()), float((shapes[k] @ normal).max())) for k in group}
    return sorted(group, key=lambda k: sum(spans[k])), spans


def _before(a: tuple[float, float], b: tuple[float, float]) -> bool:
    return a[1] - b[0] <= OVERLAP * min(a[1] - a[0], b[1] - b[0])


def _stepwise(group: list[int], shapes: list[np.ndarray]) -> list[int]:
    """Panels set like a pinwheel: always next the one that has nothing unread above it or before it in its tier."""
    left, order = list(group), []
    while left:
        ready = [k for k in left if not any(_precedes(shapes[j], shapes[k]) for j in left if j != k)]
        chosen = min(ready or left, key=lambda k: (shapes[k][:, 1].min(), shapes[k][:, 0].min()))
        order.append(chosen)
        left.remove(chosen)
    return order


def _precedes(a: np.ndarray, b: np.ndarray) -> bool:
    (a_min, a_max), (b_min, b_max) = (a.min(axis=0), a.max(axis=0)), (b.min(axis=0), b.max(axis=0))
    shared = np.minimum(a_max, b_max) - np.maximum(a_min, b_min)
    sizes = np.minimum(a_max - a_min, b_max - b_min)
    above = shared[0] > OVERLAP * sizes[0] and _before((a_min[1], a_max[1]), (b_min[1], b_max[1]))
    leading = shared[1] > OVERLAP * sizes[1] and _before((a_min[0], a_max[0]), (b_min[0], b_max[0]))
    return bool(above or leading)
