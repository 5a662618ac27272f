"""Which of several figures under one eye level do not fit, when nobody knows how high the viewer's eye is.

Each figure of known height puts the eye somewhere. Where more than half of them agree, or some do and no two of the others, the
others are off; two alone can only be shown to disagree.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from math import log

from board.not_measured import NotMeasured
from board.vision.implied_heights import EyeHeight, ImpliedHeight, Misfit, eye_height_by, mean_eye_height, misfit


@dataclass(frozen=True)
class Agreement:
    """`eye` is None where too few agree. `off` stand apart from those that do; `pair` holds two that only contradict each other."""

    eye: EyeHeight | None
    off: tuple[Misfit, ...] = ()
    pair: tuple[Misfit, Misfit] | None = None


def compare_heights(implied: Sequence[ImpliedHeight], tolerance: float) -> Agreement | NotMeasured:
    """`tolerance` is the share by which a height may be off."""
    eyes = [(one, eye_height_by(one)) for one in implied]
    placed = sorted(((one, eye) for one, eye in eyes if isinstance(eye, EyeHeight)), key=lambda item: item[1].height_m)
    if len(placed) < 2:
        return NotMeasured("One figure alone sets the scale; another one or the viewer's eye height is needed to compare it with.")
    agreeing = _largest_group(placed, tolerance)
    members = {id(one) for one, _ in agreeing}
    others = [item for item in placed if id(item[0]) not in members]
    if len(agreeing) < 2 or (len(agreeing) <= len(others) and len(_largest_group(others, tolerance)) > 1):
        return Agreement(None, pair=_contradiction(placed, tolerance))
    eye = mean_eye_height([one for _, one in agreeing])
    misfits = [misfit(one, eye) for one, _ in placed if id(one) not in members]
    return Agreement(eye, tuple(one for one in misfits if isinstance(one, Misfit) and one.is_off(tolerance)))


def _largest_group(placed: Sequence[tuple[ImpliedHeight, EyeHeight]], tolerance: float,
                   ) -> Sequence[tuple[ImpliedHeight, EyeHeight]]:
    """The longest run, in order of eye height, in which no two contradict each other; of equals, the tightest."""
    best: Sequence[tuple[ImpliedHeight, EyeHeight]] = ()
    for start in range(len(placed)):
        for end in range(start + 1, len(placed) + 1):
            run = placed[start:end]
            if _contradiction(run, tolerance):
                break
            if len(run) > len(best) or (len(run) == len(best) and _spread(run) < _spread(best)):
                best = run
    return best


def _contradiction(run: Sequence[tuple[ImpliedHeight, EyeHeight]], tolerance: float) -> tuple[Misfit, Misfit] | None:
    """The two that contradict each other most surely, each measured by the other; None where all may be right."""
    pairs = [(misfit(low, high_eye), misfit(high, low_eye)) for (low, low_eye), (high, high_eye) in combinations(run, 2)]
    apart = [(first, second) for first, second in pairs
             if isinstance(first, Misfit) and isinstance(second, Misfit) and first.is_off(tolerance) and second.is_off(tolerance)]
    return max(apart, key=lambda pair: abs(log(pair[0].share)) / max(pair[0].sigma, 1e-9), default=None)


def _spread(run: Sequence[tuple[ImpliedHeight, EyeHeight]]) -> float:
    return run[-1][1].height_m / run[0][1].height_m
