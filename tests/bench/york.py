"""Perspective on photographs: segments of the York Urban database (Denis, Elder, Estrada 2008), the 25 training scenes.

The camera is the database's own: f 674.918 px, principal point (307.551, 251.454), pictures of 640 × 480 px. The three building
directions are not exactly orthogonal, so the true horizon is the line through the two level points, as in the published benches.
"""

import time
from collections.abc import Iterator
from pathlib import Path

import numpy as np

from board.vision.perspective import solve_perspective
from tests.bench.rows import Row, at_least, at_most
from tests.bench.scoring import MISSED_DEG, SceneScore, angle_area, angles_to, horizon_auc, horizon_error, line_y, reported_points

SIZE = (640, 480)
FOCAL_PX = 6.05317058975369 / 0.00896875
K = np.array([[FOCAL_PX, 0, 307.551305282635], [0, FOCAL_PX, 251.454244960136], [0, 0, 1.0]])
K_INVERSE = np.linalg.inv(K)


def rows(data: Path) -> Iterator[Row]:
    scores = [score_scene(np.load(path)) for path in sorted((data / "york").glob("P*.npz"))]
    angles = np.concatenate([score.angles_deg for score in scores])
    yield at_least("York Urban: horizon AUC", horizon_auc([score.horizon_error for score in scores]), 97.1, "%")
    yield at_most("York Urban: scenes off by more than 5 %", sum(score.horizon_error > 0.05 for score in scores), 0)
    for cut_deg, bar in ((3, 75.5), (5, 84.5), (10, 91.5)):
        yield at_least(f"York Urban: vanishing points AA@{cut_deg}", angle_area(angles, cut_deg), bar, "%")
    yield at_least("York Urban: upright within 1°", 100 * np.mean([score.upright_deg <= 1 for score in scores]), 76, "%")
    close = [score.focal_error is not None and score.focal_error <= 0.1 for score in scores]
    yield at_least("York Urban: focal length within 10 %", 100 * np.mean(close), 96, "%")
    yield Row("York Urban: solve, median", 1000 * np.median([score.seconds for score in scores]), "ms")


def score_scene(scene: dict) -> SceneScore:
    directions = scene["directions"]
    started = time.perf_counter()
    solved = solve_perspective(scene["segments"].astype(float), image_size=SIZE)
    seconds = time.perf_counter() - started
    points, upright = reported_points(solved)
    left, right = (K @ directions[i] for i in (0, 2))
    level = np.cross(left, right)
    horizon = getattr(solved, "horizon", None)
    focal_px = getattr(solved, "focal_px", None)
    return SceneScore(
        horizon_error(None if horizon is None else np.asarray(horizon), (line_y(level, 0), line_y(level, SIZE[0])), SIZE),
        angles_to(points, directions[:3], K_INVERSE),
        MISSED_DEG if upright is None else float(angles_to(upright[None], directions[1:2], K_INVERSE)[0]),
        None if focal_px is None else abs(focal_px - FOCAL_PX) / FOCAL_PX,
        seconds,
    )



