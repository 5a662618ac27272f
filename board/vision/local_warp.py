"""What one plane transform leaves over: paper that curled, a figure that was nudged. A smooth field of small shifts."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from scipy.linalg import cho_factor, cho_solve

from board.vision.patch_votes import PatchVotes

# Nodes along the longer side. A page has hardly more than a dozen figures that side; finer would follow single votes.
NODES = 14
# How hard the field bends, and how much it clings to no shift at all, both in votes' worth.
STIFFNESS, CLING = 0.003, 0.001


@dataclass(frozen=True, eq=False)
class LocalWarp:
    """Shifts over a picture of `extent` (width, height): `nodes` (rows, cols, 2), in the same pixels, of a uniform cubic B-spline.

    The first node lies one spacing outside the picture. Outside, the field stays as it is on the rim.
    """

    extent: tuple[float, float]
    nodes: np.ndarray

    def at(self, points: np.ndarray) -> np.ndarray:
        """The shift (N, 2) at points (N, 2)."""
        across, down = self._weights(points[:, 0], 0), self._weights(points[:, 1], 1)
        # One axis after the other: over both at once each point is multiplied with every node.
        return np.einsum("nc,nck->nk", across, np.tensordot(down, self.nodes, 1))

    def over(self, xs: np.ndarray, ys: np.ndarray) -> np.ndarray:
        """The shift at every crossing of xs (W,) and ys (H,): (H, W, 2)."""
        across, down = self._weights(xs, 0), self._weights(ys, 1)
        return np.stack([down @ self.nodes[..., k] @ across.T for k in (0, 1)], -1)

    def _weights(self, along: np.ndarray, axis: int) -> np.ndarray:
        return spline_weights(along / self.extent[axis], self.nodes.shape[1 - axis])

    def scaled(self, extent: tuple[float, float]) -> "LocalWarp":
        """The same field over a picture of another size."""
        return LocalWarp(extent, self.nodes * (np.array(extent) / np.array(self.extent)))


def spline_weights(share: np.ndarray, count: int) -> np.ndarray:
    """(N, count): what each node of a uniform cubic B-spline adds at shares 0..1 of the picture."""
    place = np.clip(share, 0, 1) * (count - 3)
    distance = np.abs(place[:, None] + 1 - np.arange(count)[None])
    near, far = 2 / 3 - distance**2 + distance**3 / 2, (2 - np.minimum(distance, 2)) ** 3 / 6
    return np.where(distance < 1, near, far)


def still(extent: tuple[float, float]) -> LocalWarp:
    """No shift anywhere."""
    share = np.array(extent) / max(extent)
    cols, rows = np.maximum(np.round(share * (NODES - 3)).astype(int), 1) + 3
    return LocalWarp(extent, np.zeros((rows, cols, 2)))


def undone(local: LocalWarp) -> LocalWarp:
    """The field that leads back: where x + local(x) = y, back(y) = x - y. Good for the small, smooth fields that are fitted."""
    shares = [np.linspace(0, 1, n) for n in local.nodes.shape[:2]]
    to_nodes = [np.linalg.inv(spline_weights(share, len(share))) for share in shares]
    places = np.stack(np.meshgrid(shares[1] * local.extent[0], shares[0] * local.extent[1]), -1)
    back = np.zeros_like(places)
    for _ in range(4):
        back = -local.at((places + back).reshape(-1, 2)).reshape(places.shape)
    return LocalWarp(local.extent, np.einsum("ir,rck,jc->ijk", to_nodes[0], back, to_nodes[1]))


def fit_local_warp(at: np.ndarray, votes: PatchVotes, shift: np.ndarray, extent: tuple[float, float],
                   slack_px: float, first_slack_px: float) -> LocalWarp:
    """The smooth field that carries points `at` (N, 2) by `shift` (N, 2), each by the say and likeness of its vote.

    As in `fit_homography`, votes that no smooth field can follow are discounted.
    """
    warp = still(extent)
    if len(at) == 0:
        return warp
    rows, cols = warp.nodes.shape[:2]
    across, down = warp._weights(at[:, 0], 0), warp._weights(at[:, 1], 1)
    basis = np.einsum("nr,nc->nrc", down, across).reshape(len(at), -1)
    calm = _bending(rows, cols) * STIFFNESS + np.eye(rows * cols) * CLING
    for slack in np.geomspace(first_slack_px, slack_px, 5):
        miss = shift - warp.at(at)
        weight = votes.worth / (1 + np.einsum("ni,nij,nj->n", miss, votes.say, miss) / slack**2) ** 2
        warp = LocalWarp(extent, _solve(basis, votes.say * weight[:, None, None], shift, calm).reshape(rows, cols, 2))
    return warp


@lru_cache(maxsize=32)
def _bending(rows: int, cols: int) -> np.ndarray:
    """The thin-plate energy of nodes, by differences: squares of the second ones, twice those of the mixed."""
    second = [np.diff(np.eye(n), 2, axis=0) for n in (rows, cols)]
    first = [np.diff(np.eye(n), 1, axis=0) for n in (rows, cols)]
    parts = (np.kron(second[0], np.eye(cols)), np.kron(np.eye(rows), second[1]), np.sqrt(2) * np.kron(*first))
    return np.sum([part.T @ part for part in parts], axis=0)


def _solve(basis: np.ndarray, weight: np.ndarray, shift: np.ndarray, calm: np.ndarray) -> np.ndarray:
    """(nodes, 2): the two directions hang together through each vote's say."""
    count = basis.shape[1]
    xx, xy, yy = (basis.T @ (basis * weight[:, i, j, None]) for i, j in ((0, 0), (0, 1), (1, 1)))
    normal = np.block([[xx + calm, xy], [xy.T, yy + calm]])
    right = basis.T @ (weight @ shift[..., None])[..., 0]
    return cho_solve(cho_factor(normal), right.T.reshape(-1)).reshape(2, count).T
