"""Posts: how tall something of a given height stands at a clicked floor point, and how tall something drawn there is.

Plain tuples and no NumPy: the browser's twin of this module uses the same formulas over one table of vectors. All points in px,
y down. The eye level cuts every upright at the height of the viewer's eye (Criminisi, Reid and Zisserman, Single View Metrology,
2000).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot, isfinite

from board.horizon_line import Line, pointing_down
from board.not_measured import NotMeasured
from board.page_space import Point, Polygon, bounds

PARALLEL = 1e-12  # a share below which two lines count as parallel, a length as none
LEAST_PX = 1e-6
TICK_SHARE = 0.35  # half a tick's length, in heads: about the width of the head it stands for


@dataclass(frozen=True)
class PostView:
    """How one picture sees its ground.

    `horizon` (a, b, c) with a x + b y + c = 0 along the eye level, in any scale; `eye_height_m` over the ground; `upright` the
    homogeneous point where uprights meet, or None where they run parallel (a level camera).
    """

    horizon: Line
    eye_height_m: float
    upright: Line | None = None


@dataclass(frozen=True)
class Tick:
    """`number` heads below the crown; `ends` across the post."""

    number: int
    middle: Point
    ends: tuple[Point, Point]


@dataclass(frozen=True)
class Post:
    foot: Point
    top: Point
    ticks: tuple[Tick, ...] = ()


@dataclass(frozen=True)
class Upright:
    """The upright over one floor point: `height_m` over it is seen at (foot + height_m · rise) / (1 + height_m · turn)."""

    foot: Point
    rise: Point  # px a metre, at the foot
    turn: float  # by how much a metre comes nearer (-) or goes further (+), as a share of the foot's distance

    def at(self, height_m: float) -> Point | None:
        """None where that height is beside or behind the viewer."""
        depth = 1 + height_m * self.turn
        if depth <= PARALLEL:
            return None
        return (self.foot[0] + height_m * self.rise[0]) / depth, (self.foot[1] + height_m * self.rise[1]) / depth

    def height_m(self, point: Point) -> float | None:
        """The height seen nearest to `point`, along the upright; None past its end, or where it is seen as a point."""
        step = self.rise[0] - self.turn * self.foot[0], self.rise[1] - self.turn * self.foot[1]
        length = hypot(*step)
        if length < LEAST_PX:
            return None
        along = ((point[0] - self.foot[0]) * step[0] + (point[1] - self.foot[1]) * step[1]) / length
        left = length - along * self.turn
        return along / left if left > PARALLEL * length else None


def is_in_reach(polygon: Polygon, foot: Sequence[float]) -> bool:
    """Whether what stands there may be of this panel: half of a comic's figures are cut off by the frame, and stand below it.

    By no more than the panel's own height, and beside it by no more than its own width; in any coordinates.
    """
    left, top, right, bottom = bounds(polygon)
    wide, high = right - left, bottom - top
    return left - wide <= foot[0] <= right + wide and top <= foot[1] <= bottom + high


def upright_over(foot: Point, view: PostView, floor_m: float = 0.0) -> Upright | NotMeasured:
    """The upright over a floor point; `floor_m` is that floor over the ground (a step, a hill, a cellar)."""
    horizon = pointing_down(view.horizon)
    eye_m = view.eye_height_m - floor_m
    if horizon is None or not all(isfinite(v) for v in (*foot, *(view.upright or ()), eye_m)):
        return NotMeasured("The eye level is not known, or runs up the picture.")
    a, b, c = horizon
    below = a * foot[0] + b * foot[1] + c
    unseen = _why_unseen(below, eye_m)
    if unseen:
        return NotMeasured(unseen)
    if view.upright is None:
        return Upright(foot, (-a * below / eye_m, -b * below / eye_m), 0.0)
    x, y, w = view.upright
    meeting = a * x + b * y + c * w
    if abs(meeting) <= PARALLEL * hypot(x, y, w):
        return NotMeasured("The uprights meet on the eye level: no height can be told.")
    share = -below / meeting / eye_m
    return Upright(foot, (share * x, share * y), share * w)


def _why_unseen(below_px: float, eye_m: float) -> str:
    """Why a point so far below the eye level cannot be on a floor `eye_m` below the eye; empty where it can."""
    if eye_m == 0:
        return "The floor is as high as the viewer's eye: it is seen as a line, and sizes cannot be told."
    if abs(below_px) < LEAST_PX:
        return "This point lies on the eye level: how far away it is cannot be told."
    if below_px * eye_m > 0:
        return ""
    if eye_m > 0:
        return "This point lies above the eye level: the floor is not seen there."
    return "This point lies below the eye level: a floor over the viewer's eye is not seen there."


def post_at(foot: Point, height_m: float, view: PostView, *, heads: float | None = None,
            floor_m: float = 0.0) -> Post | NotMeasured:
    """A post of `height_m` on the floor point `foot`, with a tick for each whole head below its top."""
    if not (isfinite(height_m) and height_m > 0):
        return NotMeasured("A post needs a height.")
    upright = upright_over(foot, view, floor_m)
    if isinstance(upright, NotMeasured):
        return upright
    top = upright.at(height_m)
    if top is None:
        return NotMeasured("A post of this height would reach past the viewer.")
    if hypot(top[0] - foot[0], top[1] - foot[1]) < LEAST_PX:
        return NotMeasured("The viewer looks along this post: it is seen as a point.")
    return Post(foot, top, tuple(_ticks(upright, height_m, heads)) if heads and heads > 0 else ())


def height_at(foot: Point, top: Point, view: PostView, floor_m: float = 0.0) -> float | NotMeasured:
    """Metres from the floor point `foot` up to `top`: the inverse of `post_at`; a top beside the upright counts by its level."""
    upright = upright_over(foot, view, floor_m)
    if isinstance(upright, NotMeasured):
        return upright
    height_m = upright.height_m(top)
    if height_m is None:
        return NotMeasured("The top lies past the point where uprights meet, or the viewer looks along the upright.")
    return height_m


def _ticks(upright: Upright, height_m: float, heads: float) -> list[Tick]:
    head_m = height_m / heads
    ticks = []
    for number in range(1, int(heads - 1e-9) + 1):
        level_m = height_m - number * head_m
        middle, above = upright.at(level_m), upright.at(level_m + head_m)
        if middle is None or above is None:
            break
        across = (middle[1] - above[1]) * TICK_SHARE, (above[0] - middle[0]) * TICK_SHARE
        ends = (middle[0] - across[0], middle[1] - across[1]), (middle[0] + across[0], middle[1] + across[1])
        ticks.append(Tick(number, middle, ends))
    return ticks
