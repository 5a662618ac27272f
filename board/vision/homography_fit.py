"""One plane transform from many votes, some of them wrong."""

import cv2
import numpy as np

from board.vision.patch_votes import PatchVotes
from board.vision.vote_fit import fit_terms

# Pull of the perspective and shear terms towards staying as they are, in votes' worth: a few patches in one corner must not
# tip the whole sheet.
CALM = np.diag([0.01, 0.1, 0.1, 0.01, 0.1, 0.1, 1, 1]) * 0.05


def fit_homography(votes: PatchVotes, extent: tuple[int, int], slack_px: float, first_slack_px: float) -> np.ndarray:
    """The small homography (3, 3), in pixel indices, that moves most patch centres where they belong.

    extent: (width, height) of the field. The slack of `fit_terms` narrows from `first_slack_px` to `slack_px`. The identity where
    there are no votes.
    """
    if len(votes) == 0:
        return np.eye(3)
    to_unit = _to_unit(extent)
    unit_px = 1 / to_unit[0, 0]
    at = cv2.perspectiveTransform(votes.centre[None], to_unit)[0]
    terms, _ = fit_terms(votes, _jacobian(at), unit_px, CALM, np.geomspace(first_slack_px, slack_px, 6))
    small = np.array([[1 + terms[1], terms[2], terms[0]], [terms[4], 1 + terms[5], terms[3]], [-terms[6], -terms[7], 1]])
    return np.linalg.inv(to_unit) @ small @ to_unit


def misses(votes: PatchVotes, H: np.ndarray) -> np.ndarray:
    """What H leaves each patch off by, in px (N, 2)."""
    return votes.centre + votes.shift - cv2.perspectiveTransform(votes.centre[None], H)[0] if len(votes) else np.zeros((0, 2))


def _to_unit(extent: tuple[float, float]) -> np.ndarray:
    half = max(extent) / 2
    return np.array([[1 / half, 0, -extent[0] / 2 / half], [0, 1 / half, -extent[1] / 2 / half], [0, 0, 1.0]])


def _jacobian(at: np.ndarray) -> np.ndarray:
    """(N, 2, 8): what each small term of a homography near the identity adds to a point."""
    x, y = at.T
    zero, one = np.zeros_like(x), np.ones_like(x)
    along = np.stack([one, x, y, zero, zero, zero, x * x, x * y], -1)
    down = np.stack([zero, zero, zero, one, x, y, x * y, y * y], -1)
    return np.stack([along, down], 1)
