"""Heights read from exact pinhole pictures, by cameras tilted up to 20 degrees; and how far the plain rule misses there."""

from collections.abc import Iterator

import numpy as np

from board.vision.camera import camera_from_angles
from board.vision.figure_heights import height_from_eye_level
from tests.bench.rows import Row, at_most

TILTS_DEG = (0.0, 2.0, 5.0, 10.0, 15.0, 20.0)
POSTS = 200
EYE_M = 1.6


def rows() -> Iterator[Row]:
    rng = np.random.default_rng(6)
    errors = {tilt: [_errors(tilt, rng) for _ in range(POSTS)] for tilt in TILTS_DEG}
    exact = max(error for some in errors.values() for error, _ in some)
    yield at_most("Heights on exact pinhole pictures, 0 to 20 degrees of tilt, most", 100 * exact, 0.1, "%")
    plain = max(plain for _, plain in errors[TILTS_DEG[-1]])
    yield Row("  The plain rule, without uprights, at 20 degrees, most", 100 * plain, "%")


def _errors(tilt_deg: float, rng: np.random.Generator) -> tuple[float, float]:
    """By the upright vanishing point and by the plain rule, as shares of the height."""
    camera = camera_from_angles(float(rng.uniform(700, 1600)), (1200, 800), pitch_deg=-tilt_deg, roll_deg=float(rng.uniform(-8, 8)))
    x, away, height_m = rng.uniform(-2, 2), rng.uniform(4, 30), rng.uniform(0.5, 2.5)
    foot, top = camera.project(np.array([[x, -EYE_M, -away], [x, height_m - EYE_M, -away]]))
    upright = camera.vanishing_point(np.array([0.0, 1.0, 0.0])) if tilt_deg else None
    exact = height_from_eye_level(foot, top, camera.horizon(), EYE_M, upright)
    plain = height_from_eye_level(foot, top, camera.horizon(), EYE_M)
    return abs(exact / height_m - 1), abs(plain / height_m - 1)
