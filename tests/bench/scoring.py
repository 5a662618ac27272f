"""How estimates of vanishing points and horizons are scored in the literature, so that numbers can be laid beside published ones.

Horizon error: the largest vertical distance between the two horizons over the picture's width, by its height. AUC: area under its
cumulative curve up to 0.25 (Lezama 2014, Simon 2018). AA@k: area under the recall curve of the angle to each true vanishing point
up to k degrees (Kluger 2020).
"""

from dataclasses import dataclass

import numpy as np
from scipy.optimize import linear_sum_assignment

CUT = 0.25
MISSED_DEG = 90.0


@dataclass(frozen=True)
class SceneScore:
    horizon_error: float  # inf where none was given
    angles_deg: np.ndarray  # (n,) to each true point; 90 where missed
    upright_deg: float
    focal_error: float | None  # relative; None where none was claimed
    seconds: float


def horizon_auc(errors: list[float]) -> float:
    """Percent."""
    sorted_errors = np.sort(np.minimum(np.asarray(errors, float), CUT))
    n = len(sorted_errors)
    shares = np.append(np.arange(1, n + 1), n) / n
    return float(100 * np.trapezoid(shares, np.append(sorted_errors, CUT)) / CUT)


def angle_area(angles_deg: np.ndarray, cut_deg: float) -> float:
    """Percent."""
    return 100 * float(np.mean(np.maximum(0.0, cut_deg - angles_deg))) / cut_deg


def line_y(line: np.ndarray, x: float) -> float:
    return -(line[0] * x + line[2]) / line[1]


def horizon_error(found: np.ndarray | None, true_ends: tuple[float, float], size: tuple[int, int]) -> float:
    """found: (a, b, c) or None; true_ends: y at the picture's left and right edge."""
    if found is None or abs(found[1]) < 1e-12 * np.hypot(found[0], found[1]):
        return np.inf
    ends = line_y(found, 0), line_y(found, size[0])
    return max(abs(ends[0] - true_ends[0]), abs(ends[1] - true_ends[1])) / size[1]


def angles_to(points: np.ndarray, true_directions: np.ndarray, K_inverse: np.ndarray) -> np.ndarray:
    """points: (m, 3) homogeneous px; true_directions: (n, 3) unit. Each true one is given its own nearest point."""
    errors = np.full(len(true_directions), MISSED_DEG)
    if len(points):
        rays = points @ K_inverse.T
        rays /= np.linalg.norm(rays, axis=1, keepdims=True)
        angles = np.degrees(np.arccos(np.clip(np.abs(true_directions @ rays.T), 0, 1)))
        rows, columns = linear_sum_assignment(angles)
        errors[rows] = angles[rows, columns]
    return errors


def reported_points(solved: object) -> tuple[np.ndarray, np.ndarray | None]:
    """The points, strongest first with the upright one among the first three, and the upright one itself."""
    points = [np.asarray(one.point, float) for one in getattr(solved, "vanishing_points", ())]
    upright = next((np.asarray(one.point, float) for one in getattr(solved, "vanishing_points", ()) if one.role == "upright"), None)
    points = [point / np.linalg.norm(point) for point in points if np.all(np.isfinite(point)) and np.linalg.norm(point) > 0]
    return np.array(points).reshape(-1, 3), upright
