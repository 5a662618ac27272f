"""Each vanishing point let go from the camera, for reporting: real corners, and drawn ones more so, are not quite right-angled."""

import numpy as np

from board.vision.perspective_search import ChosenCamera
from board.vision.segment_bundle import SegmentBundle
from board.vision.short_arrays import cross_of
from board.vision.vanishing_hypotheses import point_gradients
from board.vision.vanishing_likelihood import family_shares, likelihood_ratios

LEASH_RAD = np.radians(0.5)  # how far from a right angle, seen by the camera, a direction is thought to stray
ROUNDS = 4


def release_points(chosen: ChosenCamera, bundle: SegmentBundle, leash_rad: float = LEASH_RAD) -> np.ndarray:
    """(3, 3) homogeneous points in picture units: each the likeliest for its own segments, on a leash to the camera's point."""
    cameras = chosen.refined.cameras
    K = np.diag([cameras.focal[0], cameras.focal[0], 1.0])
    K[:2, 2] = cameras.principal[0]
    anchor = cameras.rotation[0].T
    direction = anchor.copy()
    for _ in range(ROUNDS):
        points = direction @ K.T
        membership, _ = family_shares(likelihood_ratios(points, bundle, chosen.spread)[None], chosen.refined.shares)
        sine, slope = point_gradients(points[None], bundle)
        trust = membership[0] * bundle.testimony * (4 / 3) / (chosen.spread**2 + sine[0] ** 2 / 3)
        for k in range(3):
            tangent = _tangents(direction[k])
            jacobian = slope[0, k].T @ K @ tangent
            information = (jacobian * trust[k][:, None]).T @ jacobian + np.eye(2) / leash_rad**2
            pull = (jacobian * trust[k][:, None]).T @ sine[0, k] - tangent.T @ (anchor[k] - direction[k]) / leash_rad**2
            moved = direction[k] - tangent @ np.linalg.solve(information, pull)
            direction[k] = moved / np.linalg.norm(moved)
    return direction @ K.T


def _tangents(direction: np.ndarray) -> np.ndarray:
    """(3, 2) orthonormal, at right angles to a unit direction (3,)."""
    first = cross_of(direction, np.eye(3)[np.argmin(np.abs(direction))])
    first /= np.linalg.norm(first)
    return np.stack([first, cross_of(direction, first)], axis=1)
