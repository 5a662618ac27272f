"""How tall figures stand by one eye level, with what is uncertain about it, and which of them do not fit the others.

Everything is told in logarithms, where a figure 12 % too tall is as far off at any size. Clicks disturb each figure by itself; the
eye level and the upright point disturb all figures of a panel together, so that part largely cancels where two are compared.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import dist, hypot, log

from board.figure_posts import height_at
from board.not_measured import NotMeasured
from board.page_space import Point
from board.vision.eye_level import MOST_LEAN_DEG, PanelEyeLevel

WIDEST_SIGMA = 0.10  # beyond this the height cannot be told
CERTAIN = 3.0  # sigmas that must stand between a figure and its height before anything is said


@dataclass(frozen=True)
class StandingFigure:
    """`height_m` and `name` of the character; `floor_m` over the panel's ground; one sigma of each click."""

    id: int
    name: str
    sole: Point
    crown: Point
    height_m: float
    floor_m: float = 0.0
    sole_sigma_px: float = 0.0
    crown_sigma_px: float = 0.0


@dataclass(frozen=True)
class ImpliedHeight:
    """`eyes` is the drawn height in heights of the viewer's eye over the figure's floor; sigmas and `shared` are of its logarithm.

    `shared` holds signed effects of one sigma of the eye level and of the upright point.
    """

    figure: StandingFigure
    eyes: float
    own_sigma: float
    shared: tuple[float, float]

    @property
    def sigma(self) -> float:
        return hypot(self.own_sigma, *self.shared)


@dataclass(frozen=True)
class EyeHeight:
    """How high the viewer's eye is over the panel's ground; sigmas of its logarithm."""

    height_m: float
    own_sigma: float = 0.0
    shared: tuple[float, float] = (0.0, 0.0)


@dataclass(frozen=True)
class Misfit:
    """`share` is the drawn height over the character's own; `sigma` is of its logarithm."""

    implied: ImpliedHeight
    eye: EyeHeight
    share: float
    sigma: float

    def is_off(self, tolerance: float) -> bool:
        return abs(self.share - 1) > tolerance and abs(log(self.share)) > CERTAIN * self.sigma


def imply_height(figure: StandingFigure, level: PanelEyeLevel) -> ImpliedHeight | NotMeasured:
    """What the eye level says of one figure, and how far each source of error moves it; NotMeasured where it says too little."""
    drawn_px = dist(figure.sole, figure.crown)
    if drawn_px == 0:
        return NotMeasured("Crown and soles are marked at the same place.")
    if level.leans(figure.sole, figure.crown):
        return NotMeasured(f"{figure.name} leans from the uprights by more than {MOST_LEAN_DEG:.0f}°: it is bent, and has no "
                           "height to measure, or the uprights are not where they were found.")
    eyes = _eyes(figure, level)
    if isinstance(eyes, NotMeasured):
        return eyes
    along = tuple((figure.crown[k] - figure.sole[k]) / drawn_px for k in (0, 1))
    effects = [
        _effect(eyes, _eyes(figure, level, sole=_moved(figure.sole, along, figure.sole_sigma_px))),
        _effect(eyes, _eyes(figure, level, crown=_moved(figure.crown, along, figure.crown_sigma_px))),
        _effect(eyes, _eyes(figure, level, shift_px=level.sigma_px)),
        _effect(eyes, _eyes(figure, level, with_upright=False)),
    ]
    moves = [effect for effect in effects if effect is not None]
    if len(moves) < len(effects):
        return NotMeasured(f"{figure.name} stands too near the eye level for a height.")
    implied = ImpliedHeight(figure, eyes, hypot(moves[0], moves[1]), (moves[2], moves[3] * level.upright_error))
    if implied.sigma > WIDEST_SIGMA:
        return NotMeasured(f"The height of {figure.name} could only be told within ±{2 * implied.sigma:.0%}.")
    return implied


def eye_height_by(implied: ImpliedHeight) -> EyeHeight | NotMeasured:
    """The viewer's eye height at which this figure has its own height."""
    own_m = implied.figure.height_m / implied.eyes
    eye_m = own_m + implied.figure.floor_m
    if eye_m <= 0:
        return NotMeasured(f"{implied.figure.name} would put the viewer's eye under the ground.")
    share = own_m / eye_m
    return EyeHeight(eye_m, abs(share) * implied.own_sigma, (-share * implied.shared[0], -share * implied.shared[1]))


def mean_eye_height(eyes: Sequence[EyeHeight]) -> EyeHeight:
    """Weighted by what is each figure's own; what is shared stays."""
    weights = [1 / (eye.own_sigma**2 + 1e-6) for eye in eyes]
    total = sum(weights)

    def mean(values: Sequence[float]) -> float:
        return sum(weight * value for weight, value in zip(weights, values, strict=True)) / total

    shared = mean([eye.shared[0] for eye in eyes]), mean([eye.shared[1] for eye in eyes])
    return EyeHeight(mean([eye.height_m for eye in eyes]), total**-0.5, shared)


def misfit(implied: ImpliedHeight, eye: EyeHeight) -> Misfit | NotMeasured:
    """How far a figure is from its own height, seen from that eye height."""
    over_floor_m = eye.height_m - implied.figure.floor_m
    share = implied.eyes * over_floor_m / implied.figure.height_m
    if share <= 0:
        return NotMeasured(f"{implied.figure.name} stands on the other side of the eye level than the floor does.")
    weight = eye.height_m / over_floor_m
    shared = [own + weight * other for own, other in zip(implied.shared, eye.shared, strict=True)]
    return Misfit(implied, eye, share, hypot(implied.own_sigma, weight * eye.own_sigma, *shared))


def _eyes(figure: StandingFigure, level: PanelEyeLevel, *, sole: Point | None = None, crown: Point | None = None,
          shift_px: float = 0.0, with_upright: bool = True) -> float | NotMeasured:
    """Drawn height in eye heights. A figure on a floor above the eye stands above the eye level and has a negative one."""
    view = level.view(1.0, shift_px=shift_px, with_upright=with_upright)
    sole, crown = sole or figure.sole, crown or figure.crown
    height = height_at(sole, crown, view)
    if not isinstance(height, NotMeasured):
        return height
    over_eye = height_at(sole, crown, view, floor_m=2.0)
    return height if isinstance(over_eye, NotMeasured) else -over_eye


def _effect(eyes: float, moved: float | NotMeasured) -> float | None:
    if isinstance(moved, NotMeasured) or moved / eyes <= 0:
        return None
    return log(moved / eyes)


def _moved(point: Point, along: Sequence[float], by_px: float) -> Point:
    return point[0] + along[0] * by_px, point[1] + along[1] * by_px
