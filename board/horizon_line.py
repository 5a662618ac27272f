"""The eye level as a line (a, b, c): a x + b y + c = 0 in px, y down. On it lies all that is as high as the eye."""

from collections.abc import Sequence
from math import hypot, isfinite

Line = tuple[float, float, float]
STEEPEST = 0.2  # an eye level with a smaller b runs up the picture: which side of it is floor cannot be told


def pointing_down(line: Sequence[float]) -> Line | None:
    """Scaled so that it gives the px by which a point lies below the eye level; None where it runs up the picture."""
    scale = hypot(line[0], line[1])
    if not all(isfinite(v) for v in line) or abs(line[1]) <= STEEPEST * scale:
        return None
    scale = scale if line[1] > 0 else -scale
    return line[0] / scale, line[1] / scale, line[2] / scale
