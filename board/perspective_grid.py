"""Grids to draw on: floor and walls in even steps, lines to each vanishing point, and boxes of real size on the floor.

Plain tuples and no NumPy: the browser's twin of this module uses the same formulas over one table of vectors. All in px, y down.
Method: in a plane of origin o and directions s, t the lines t = k are the pencil (o × s) + k (t × s) of the homogeneous points at
which o, s and t are seen (Hartley and Zisserman, Multiple View Geometry, chapter 2; from memory: the page). Even steps of k are
even steps in the plane, however it is tilted: the diagonals of its squares stay straight (Alberti, De pictura, 1435, book 1).
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from math import cos, hypot, isfinite, radians, sin, sqrt

from board.ground_view import GroundView, Vector, cross, dot, scaled
from board.not_measured import NotMeasured
from board.page_space import Point

Segment = tuple[Point, Point]
LEAST_GAP_PX = 3.0  # lines nearer to each other than this are a grey, no grid
MOST_LINES = 200  # of one pencil, to each side
LEAST_SEEN_PX = 0.1  # a shorter piece of a line only touches the outline
FACED = 0.05  # of the panel's diagonal: a wall seen more edge-on than this is left out
ON_IT_PX = 1e-4  # what is nearer to a line lies on it
NEAREST = 1e-3  # shares of the eye height before the eye: what is nearer cannot be drawn


@dataclass(frozen=True)
class Grid:
    """`floor` and `walls`: each a pencil of lines, which run to one vanishing point; `step` in the unit of the eye height."""

    eye_level: tuple[Segment, ...]
    floor: tuple[tuple[Segment, ...], ...]
    walls: tuple[tuple[Segment, ...], ...] = ()
    step: float = 1.0


@dataclass(frozen=True)
class Box:
    """`corners`: the four on the floor, around from the front left, then the four above them; `edges`: pairs of corners."""

    corners: tuple[Point, ...]
    edges: tuple[Segment, ...] = field(default=())


SIDES = ((0, 1), (1, 2), (2, 3), (3, 0), (4, 5), (5, 6), (6, 7), (7, 4), (0, 4), (1, 5), (2, 6), (3, 7))


def perspective_grid(view: GroundView, polygon: Sequence[Point], step: float, *, has_walls: bool = True) -> Grid | NotMeasured:
    """The grid within a panel. `step` in metres where the view is measured, else in eye heights."""
    if not (isfinite(step) and step > 0):
        return NotMeasured("A grid needs a step.")
    eye_level = tuple(clip_to_polygon(view.horizon, polygon))
    on_floor = [corner for corner in polygon if dot(view.horizon, (*corner, 1.0)) > LEAST_GAP_PX]
    floor = _floor(view, polygon, on_floor, step) if on_floor else ()
    # Where only a ceiling is seen, the walls stand under that, as far over the eye as the floor is below it.
    off_level = on_floor or [corner for corner in polygon if dot(view.horizon, (*corner, 1.0)) < -LEAST_GAP_PX]
    from_foot = scaled(view.down, -1.0 if on_floor else 1.0)
    walls = _walls(view, polygon, off_level, from_foot, step) if has_walls and off_level else []
    return Grid(eye_level, floor, tuple(walls), step)


def _floor(view: GroundView, polygon: Sequence[Point], corners: Sequence[Point], step: float) -> tuple[tuple[Segment, ...], ...]:
    low = max(corners, key=lambda corner: dot(view.horizon, (*corner, 1.0)))
    a, b, c = view.horizon
    haze = a, b, c - _haze_px(view, dot(view.horizon, (*low, 1.0)), view.eye_height, step)
    pencils = _pencils(view, low, view.level[0], view.level[1], step)
    return tuple(clip_pencil(pencil, polygon, haze) for pencil in pencils)


def _haze_px(view: GroundView, nearest_px: float, distance: float, step: float) -> float:
    """How far beside its vanishing line the squares of a plane grow too flat to draw: depth z is seen f d / z beside it.

    `distance`: d, of the eye from the plane; `nearest_px`: how far beside that line what is nearest is seen.
    """
    return min(sqrt(LEAST_GAP_PX * view.focal_px * distance / step), 0.4 * nearest_px)


def _pencils(view: GroundView, origin: Point, s: Vector, t: Vector, step: float) -> tuple[tuple[Vector, Vector], ...]:
    """Of the plane through a point of floor or ceiling: the lines along `s`, one for each step of `t`, and those along `t`."""
    o, along_s, along_t = view.seen(view.on_level(origin)), view.seen(s), view.seen(t)
    return ((cross(o, along_s), scaled(cross(along_t, along_s), step)), (cross(o, along_t), scaled(cross(along_s, along_t), step)))


def _walls(
    view: GroundView, polygon: Sequence[Point], corners: Sequence[Point], from_foot: Vector, step: float
) -> list[tuple[Segment, ...]]:
    """Along each level direction that leads into the picture, one wall on each side, through the floor corner most to that side.

    Each is drawn from its foot, up or under a ceiling down, and ends in the haze as the floor does.
    """
    diagonal, pencils = _diagonal(polygon), []
    for direction in view.level:
        edge = _unit_line(cross(view.seen(direction), view.upright))
        if edge is None or direction[2] < NEAREST:
            continue
        for side in (1.0, -1.0):
            facing = scaled(edge, side)
            corner = max(corners, key=lambda point: dot(facing, (*point, 1.0)))
            if dot(facing, (*corner, 1.0)) < FACED * diagonal:
                continue
            distance = abs(dot(cross(direction, view.down), view.on_level(corner)))
            haze = facing[0], facing[1], facing[2] - _haze_px(view, dot(facing, (*corner, 1.0)), distance, step)
            along, across = _pencils(view, corner, direction, from_foot, step)
            foot = scaled(along[0], 1.0 if dot(along[0], view.seen(from_foot)) > 0 else -1.0)
            pencils += [clip_pencil(pencil, polygon, haze, _just_before(foot)) for pencil in (along, across)]
    return [pencil for pencil in pencils if pencil]


def _just_before(line: Vector) -> Vector:
    """The side of a line, with the line itself."""
    a, b, c = _unit_line(line) or line
    return a, b, c + ON_IT_PX


def clip_pencil(pencil: tuple[Vector, Vector], polygon: Sequence[Point], *sides: Vector) -> tuple[Segment, ...]:
    """What is seen of the lines base + k · step, k = 0, ±1, …, inside the polygon and where all `sides` are positive."""
    found = list(_clip_at(pencil, 0, polygon, sides))
    for turn in (1, -1):
        for k in range(turn, turn * (MOST_LINES + 1), turn):
            segments = list(_clip_at(pencil, k, polygon, sides))
            before = _unit_line(_line_at(pencil, k - turn))
            if segments and before and max(abs(dot(before, (*end, 1.0))) for one in segments for end in one) < LEAST_GAP_PX:
                break
            found += segments
    return tuple(found)


def _line_at(pencil: tuple[Vector, Vector], k: int) -> Vector:
    base, step = pencil
    return base[0] + k * step[0], base[1] + k * step[1], base[2] + k * step[2]


def _clip_at(pencil: tuple[Vector, Vector], k: int, polygon: Sequence[Point], sides: Sequence[Vector]) -> Iterator[Segment]:
    for segment in clip_to_polygon(_line_at(pencil, k), polygon):
        kept: Segment | None = segment
        for side in sides:
            kept = clip_to_side(kept, side) if kept else None
        if kept:
            yield kept


def clip_to_polygon(line: Vector, polygon: Sequence[Point]) -> Iterator[Segment]:
    """The parts of a line a x + b y + c = 0 that lie inside a polygon, which may be hollow; a line that only touches has none."""
    unit = _unit_line(line)
    if unit is None:
        return
    along, crossings = (unit[1], -unit[0]), []
    for start, end in zip(polygon, [*polygon[1:], *polygon[:1]], strict=True):
        first, second = dot(unit, (*start, 1.0)), dot(unit, (*end, 1.0))
        if (first > 0) != (second > 0):
            share = first / (first - second)
            x, y = start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])
            crossings.append((x * along[0] + y * along[1], (x, y)))
    crossings.sort()
    for (from_, start), (to, end) in zip(crossings[::2], crossings[1::2], strict=True):
        if to - from_ > LEAST_SEEN_PX:
            yield start, end


def clip_to_side(segment: Segment, facing: Vector) -> Segment | None:
    first, second = (dot(facing, (*end, 1.0)) for end in segment)
    if first <= 0 and second <= 0:
        return None
    if first > 0 and second > 0:
        return segment
    share, (start, end) = first / (first - second), segment
    cut = start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])
    return (start, cut) if first > 0 else (cut, end)


def box_at(view: GroundView, foot: Point, *, width_m: float, height_m: float, depth_m: float = 0.0,
           turn_deg: float = 0.0) -> Box | NotMeasured:
    """A box (a door, a table) on the floor point `foot`, the middle of its front edge; `turn_deg` + turns it to the right.

    Its depth runs along the level direction that leads further into the picture, before it is turned.
    """
    sizes = width_m, height_m, depth_m, turn_deg
    if not all(isfinite(v) for v in sizes) or width_m <= 0 or height_m <= 0 or depth_m < 0:
        return NotMeasured("A box needs a width and a height.")
    if not view.is_measured:
        return NotMeasured("How high the viewer's eye is has to be known before a thing of real size can be drawn.")
    at = view.floor_at(foot)
    if isinstance(at, NotMeasured):
        return at
    spots = list(_box_corners(view, at, sizes))
    if any(spot[2] < NEAREST * view.eye_height for spot in spots):
        return NotMeasured("A box of this size would reach past the viewer.")
    corners = tuple((x / w, y / w) for x, y, w in map(view.seen, spots))
    return Box(corners, tuple((corners[a], corners[b]) for a, b in SIDES))


def _box_corners(view: GroundView, at: Vector, sizes: tuple[float, float, float, float]) -> Iterator[Vector]:
    width, height, depth, turn_deg = sizes
    ahead, turn = view.level[0], radians(turn_deg)
    right = cross(view.down, ahead)
    into = _sum(scaled(ahead, cos(turn)), scaled(right, sin(turn)))
    across = _sum(scaled(right, cos(turn)), scaled(ahead, -sin(turn)))
    for up in (0.0, height):
        for side, back in ((-width / 2, 0.0), (width / 2, 0.0), (width / 2, depth), (-width / 2, depth)):
            yield _sum(_sum(at, scaled(across, side)), _sum(scaled(into, back), scaled(view.down, -up)))


def _sum(first: Vector, second: Vector) -> Vector:
    return first[0] + second[0], first[1] + second[1], first[2] + second[2]


def _unit_line(line: Vector) -> Vector | None:
    """None for the line at infinity and for no line at all."""
    length = hypot(line[0], line[1])
    if not isfinite(length) or length <= 1e-12 * abs(line[2]) or length == 0:
        return None
    return line[0] / length, line[1] / length, line[2] / length


def _diagonal(polygon: Sequence[Point]) -> float:
    xs, ys = [p[0] for p in polygon], [p[1] for p in polygon]
    return hypot(max(xs) - min(xs), max(ys) - min(ys))
