"""The camera over its ground that a panel's eye level and vanishing points stand for, so that things of known size can be drawn.

Plain tuples and no NumPy: the browser's twin of this module uses the same formulas over one table of vectors. Points in px, y down;
camera axes x right, y down, z ahead. Source of the formulas: Hartley and Zisserman, Multiple View Geometry, chapter 8 (from memory:
the page).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, hypot, isfinite, radians, sqrt, tan

from board.horizon_line import pointing_down
from board.not_measured import NotMeasured
from board.page_space import Point

Vector = tuple[float, float, float]
FARTHEST = 50.0  # diagonals: a point further off than this is drawn as if it were at infinity
CONE_DEG = 60.0  # what one takes in at a glance: common practice, no source
SQUARE_WITHIN_DEG = 20.0  # two level directions nearer to each other than this do not span a floor
LEAST_PX = 1e-6
WIDEST_SHARE = 0.625  # a focal length over half the points' distance by more than a quarter is not of right-angled directions


@dataclass(frozen=True)
class GroundView:
    """`down` and the two `level` directions (the one that leads further into the picture first) are unit vectors in camera axes.

    Lengths along the ground are in the unit of `eye_height`: metres where `is_measured`, else eye heights.
    """

    centre: Point
    focal_px: float
    down: Vector
    level: tuple[Vector, Vector]
    eye_height: float = 1.0
    is_measured: bool = False
    focal_is_assumed: bool = False

    @property
    def horizon(self) -> Vector:
        """(a, b, c): how many px a point lies below the eye level."""
        a, b, z = self.down
        line = a / self.focal_px, b / self.focal_px, z - (a * self.centre[0] + b * self.centre[1]) / self.focal_px
        length = hypot(line[0], line[1])
        return line[0] / length, line[1] / length, line[2] / length

    @property
    def upright(self) -> Vector:
        """The homogeneous point where uprights meet."""
        return self.seen(self.down)

    def seen(self, vector: Vector) -> Vector:
        """The homogeneous point at which something at `vector` from the eye is seen; with w <= 0 it is not before the eye."""
        x, y, z = vector
        return self.focal_px * x + self.centre[0] * z, self.focal_px * y + self.centre[1] * z, z

    def floor_at(self, point: Point) -> Vector | NotMeasured:
        """Where on the ground, from the eye, the picture's `point` lies."""
        below = dot(self.horizon, (*point, 1.0))
        if not isfinite(below) or below < LEAST_PX:
            return NotMeasured("This point does not lie below the eye level: the floor is not seen there.")
        return self.on_level(point)

    def on_level(self, point: Point) -> Vector:
        """The same for a point of the floor, or of a ceiling as far above the eye as the floor is below it."""
        ray = _ray((*point, 1.0), self.focal_px, self.centre)
        return scaled(ray, self.eye_height / abs(dot(ray, self.down)))


def ground_view(horizon: Sequence[float], level: Sequence[Sequence[float]], upright: Sequence[float] | None, *, middle: Point,
                diagonal_px: float, focal_px: float | None = None, eye_height_m: float | None = None,
                centre: Point | None = None) -> GroundView | NotMeasured:
    """`horizon` (a, b, c) in any scale; `level` homogeneous points of level directions, strongest first; `upright` where uprights
    meet, None or far off where they run parallel; `middle` and `diagonal_px` of the panel.

    One camera that agrees with itself is made of them: the eye level and the uprights are kept as they are, the point that the eye
    looks at square on is put as near to the panel's middle as they allow. Where nothing shows the focal length, the panel's
    diagonal is taken to be seen under 60°. Where `centre`, the point looked at square on, is known, as of a still that a panel is
    cropped from, it stands in for the panel's middle; with the focal length beside it, it and the eye level are the camera.
    """
    line = pointing_down(horizon)
    if line is None or not all(isfinite(v) for v in (*middle, *(centre or ()), diagonal_px)) or diagonal_px <= 0:
        return NotMeasured("The eye level is not known, or runs up the picture.")
    if eye_height_m is not None and not (isfinite(eye_height_m) and eye_height_m > 0):
        return NotMeasured("The viewer's eye has to be above the ground.")
    given = focal_px if focal_px and isfinite(focal_px) and focal_px > 0 else None
    points = [point for point in level if all(map(isfinite, point)) and any(point)]
    shown, middle = given, centre or middle
    if centre and given:
        focal, down = given, _down(line, centre, given)
    elif upright is None or _is_far(upright, diagonal_px):
        centre, shown = _centre_on(line, points, middle, diagonal_px, given)
        focal, down = shown or diagonal_px / 2 / tan(radians(CONE_DEG / 2)), (line[0], line[1], 0.0)
    else:
        placed = _centre_between(line, (upright[0] / upright[2], upright[1] / upright[2]), middle, given)
        if placed is None:
            return NotMeasured("The uprights meet on the eye level: no floor can be laid.")
        centre, focal = placed
        shown, down = focal, _down(line, centre, focal)
    directions = _level_directions(points, focal, centre, down)
    return GroundView(centre, focal, down, directions, eye_height_m or 1.0, eye_height_m is not None, shown is None)


def _down(line: Vector, centre: Point, focal_px: float) -> Vector:
    return _unit((line[0] * focal_px, line[1] * focal_px, dot(line, (*centre, 1.0))))


def _foot_on(line: Vector, point: Point) -> Point:
    below = line[0] * point[0] + line[1] * point[1] + line[2]
    return point[0] - below * line[0], point[1] - below * line[1]


def _is_far(point: Sequence[float] | None, diagonal_px: float) -> bool:
    return point is None or abs(point[2]) * FARTHEST * diagonal_px <= hypot(point[0], point[1])


def _centre_on(line: Vector, points: Sequence[Sequence[float]], middle: Point, diagonal_px: float,
               given: float | None) -> tuple[Point, float | None]:
    """Where the eye of a level camera looks at the eye level, and the focal length where something shows it.

    A single finite point is looked at square on; two of right-angled directions part the eye level so that their distances from
    the centre multiply to f².
    """
    foot = _foot_on(line, middle)
    along = sorted((p[0] / p[2] - foot[0]) * line[1] - (p[1] / p[2] - foot[1]) * line[0]
                   for p in points[:2] if not _is_far(p, diagonal_px))
    at, focal_px = 0.0, given
    if len(along) == 1 and len(points) > 1:
        at = along[0]
    elif len(along) == 2 and given is None and along[0] < 0 < along[1]:
        focal_px = sqrt(-along[0] * along[1])
    elif len(along) == 2 and given is not None and given <= WIDEST_SHARE * (along[1] - along[0]):
        at = along[0] + _parting(along[1] - along[0], -along[0], given)
        focal_px = sqrt((at - along[0]) * (along[1] - at))
    return (foot[0] + at * line[1], foot[1] - at * line[0]), focal_px


def _centre_between(line: Vector, upright: Point, middle: Point, given: float | None) -> tuple[Point, float] | None:
    """The centre lies on the way from the eye level straight to the uprights' point and parts it in two: their product is f²."""
    foot = _foot_on(line, upright)
    span = hypot(upright[0] - foot[0], upright[1] - foot[1])
    if span < LEAST_PX:
        return None
    way = (upright[0] - foot[0]) / span, (upright[1] - foot[1]) / span
    wished = (middle[0] - foot[0]) * way[0] + (middle[1] - foot[1]) * way[1]
    at = min(max(wished, 0.02 * span), 0.98 * span) if given is None else _parting(span, wished, given)
    return (foot[0] + at * way[0], foot[1] + at * way[1]), sqrt(at * (span - at))


def _parting(span: float, wished: float, focal_px: float) -> float:
    """Where to part a way in two whose product is f², as near to `wished` as can be; where f is too long for it, in the middle."""
    reach = sqrt(max(span * span / 4 - focal_px * focal_px, 0.0))
    return min((span / 2 - reach, span / 2 + reach), key=lambda place: abs(place - wished))


def _level_directions(points: Sequence[Sequence[float]], focal_px: float, centre: Point, down: Vector) -> tuple[Vector, Vector]:
    """As the points have them where two are apart; else the second square to the first, and without any straight ahead."""
    found = [d for d in (_along_ground(_ray(point, focal_px, centre), down) for point in points) if d is not None]
    first = found[0] if found else _along_ground((0.0, 0.0, 1.0), down) or (0.0, 0.0, 1.0)
    apart = [d for d in found[1:] if abs(dot(d, first)) < cos(radians(SQUARE_WITHIN_DEG))]
    second = apart[0] if apart else _ahead(cross(down, first))
    return (first, second) if first[2] >= second[2] else (second, first)


def _along_ground(ray: Vector, down: Vector) -> Vector | None:
    fall = dot(ray, down)
    level = ray[0] - fall * down[0], ray[1] - fall * down[1], ray[2] - fall * down[2]
    return _ahead(_unit(level)) if sqrt(dot(level, level)) > 1e-9 * sqrt(dot(ray, ray)) else None


def _ray(point: Sequence[float], focal_px: float, centre: Point) -> Vector:
    return (point[0] - centre[0] * point[2]) / focal_px, (point[1] - centre[1] * point[2]) / focal_px, point[2]


def _ahead(vector: Vector) -> Vector:
    """Away from the viewer; along the picture, to the right."""
    is_ahead = vector[2] > 1e-9 or (vector[2] >= -1e-9 and vector[0] > 0)
    return vector if is_ahead else scaled(vector, -1.0)


def _unit(vector: Vector) -> Vector:
    return scaled(vector, 1 / sqrt(dot(vector, vector)))


def scaled(vector: Vector, by: float) -> Vector:
    return vector[0] * by, vector[1] * by, vector[2] * by


def dot(first: Sequence[float], second: Sequence[float]) -> float:
    return first[0] * second[0] + first[1] * second[1] + first[2] * second[2]


def cross(first: Sequence[float], second: Sequence[float]) -> Vector:
    return (first[1] * second[2] - first[2] * second[1], first[2] * second[0] - first[0] * second[2],
            first[0] * second[1] - first[1] * second[0])
