"""The terms of a small motion from many votes, some of them wrong."""

import numpy as np

from board.vision.patch_votes import PatchVotes


def fit_terms(
    votes: PatchVotes, jacobian: np.ndarray, unit_px: float, calm: np.ndarray, slacks_px: np.ndarray
) -> tuple[np.ndarray, np.ndarray]:
    """The K terms (K,) that move most patch centres where they belong, and what each of the N votes counted in the end (N,).

    jacobian: (N, 2, K), what each term adds to a patch's place, in units of `unit_px`. calm: (K, K), in votes' worth, pulls terms
    that few votes tell towards 0. A miss is judged by each vote's own say and discounted as it grows past the slack (Geman and
    McClure's function), which takes the values of `slacks_px` in turn. Raises LinAlgError where neither votes nor calm fix a term.
    """
    shift, terms, weight = votes.shift / unit_px, np.zeros(jacobian.shape[2]), votes.worth
    for slack in slacks_px:
        miss = shift - jacobian @ terms
        off = np.einsum("ni,nij,nj->n", miss, votes.say, miss) * unit_px**2
        weight = votes.worth / (1 + off / slack**2) ** 2
        say = votes.say * weight[:, None, None]
        normal = np.einsum("nik,nij,njl->kl", jacobian, say, jacobian)
        terms = np.linalg.solve(normal + calm, np.einsum("nik,nij,nj->k", jacobian, say, shift))
    return terms, weight
