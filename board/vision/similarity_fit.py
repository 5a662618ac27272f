"""One similarity from many votes, some of them wrong."""

import numpy as np

from board.vision.patch_votes import PatchVotes
from board.vision.vote_fit import fit_terms

CALM = np.diag([0.001, 0.001, 0.003, 0.003])  # in votes' worth: keeps the terms that few votes tell from running away


def fit_similarity(votes: PatchVotes, extent: tuple[int, int], slack_px: float,
                   first_slack_px: float) -> tuple[np.ndarray, np.ndarray]:
    """The similarity (3, 3), in pixel indices, that moves most patch centres where they belong, and what each vote counted (N,).

    extent: (width, height) of the field. The slack of `fit_terms` narrows from `first_slack_px` to `slack_px`.
    """
    slacks_px = np.geomspace(first_slack_px, slack_px, 8)
    terms, weight = fit_terms(votes, _jacobian(votes.centre, extent), max(extent) / 2, CALM, slacks_px)
    return similarity_of(terms, extent), weight


def similarity_of(terms: np.ndarray, extent: tuple[int, int]) -> np.ndarray:
    """`terms`: shift right and down in half sides of the field, growth, turn (radians, clockwise as seen) about its middle."""
    x, y, grown, turned = terms
    half = max(extent) / 2
    to_px = np.array([[half, 0, extent[0] / 2], [0, half, extent[1] / 2], [0, 0, 1.0]])
    return to_px @ np.array([[1 + grown, -turned, x], [turned, 1 + grown, y], [0, 0, 1.0]]) @ np.linalg.inv(to_px)


def sigmas(votes: PatchVotes, weight: np.ndarray, extent: tuple[int, int], overlap: float) -> np.ndarray:
    """(4,) one sigma of each term, from how the votes (as they are left) scatter; `overlap`, how many patches say one thing."""
    jacobian, half = _jacobian(votes.centre, extent), max(extent) / 2
    say = votes.say * weight[:, None, None]
    bread = np.linalg.inv(np.einsum("nik,nij,njl->kl", jacobian, say, jacobian) + 1e-6 * np.eye(4))
    pull = np.einsum("nik,nij,nj->nk", jacobian, say, votes.shift / half)
    return np.sqrt(np.diag(bread @ (pull.T @ pull) @ bread) * overlap)


def _jacobian(at_px: np.ndarray, extent: tuple[int, int]) -> np.ndarray:
    """(N, 2, 4): what shift right, shift down, growth and turn add to a point, in half sides of the field."""
    x, y = ((at_px - np.array(extent) / 2) / (max(extent) / 2)).T
    zero, one = np.zeros_like(x), np.ones_like(x)
    return np.stack([np.stack([one, zero, x, -y], -1), np.stack([zero, one, y, x], -1)], 1)
