"""What one plane transform leaves over: paper that curled, a figure that was nudged. A smooth field of small shifts."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from scipy.linalg import solveh_banded

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
    basis = _Basis(warp._weights(at[:, 0], 0), warp._weights(at[:, 1], 1))
    calm = _calm(rows, cols)
    for slack in np.geomspace(first_slack_px, slack_px, 5):
        miss = shift - warp.at(at)
        weight = votes.worth / (1 + np.einsum("ni,nij,nj->n", miss, votes.say, miss) / slack**2) ** 2
        warp = LocalWarp(extent, _solve(basis, votes.say * weight[:, None, None], shift, calm).reshape(rows, cols, 2))
    return warp


@lru_cache(maxsize=32)
def _calm(rows: int, cols: int) -> np.ndarray:
    """What holds the nodes: their thin-plate energy by differences (squares of the second ones, twice those of the mixed), and how
    they cling to no shift. Banded, as `_Basis.normal`."""
    second = [np.diff(np.eye(n), 2, axis=0) for n in (rows, cols)]
    first = [np.diff(np.eye(n), 1, axis=0) for n in (rows, cols)]
    parts = (np.kron(second[0], np.eye(cols)), np.kron(np.eye(rows), second[1]), np.sqrt(2) * np.kron(*first))
    energy = np.sum([part.T @ part for part in parts], axis=0) * STIFFNESS + np.eye(rows * cols) * CLING
    return np.stack([np.append(np.diagonal(energy, -below), np.zeros(below)) for below in range(_bands(cols))])


def _bands(cols: int) -> int:
    """A point lies between four nodes each way; nodes are counted row by row, so these are the farthest that go together."""
    return 3 * cols + 4


class _Basis:
    """What each of `nodes` adds at N points, from `across` (N, cols) and `down` (N, rows); only sixteen at a time are not 0."""

    def __init__(self, across: np.ndarray, down: np.ndarray) -> None:
        (col, by_col), (row, by_row) = _four(across), _four(down)
        self.nodes, self.bands = across.shape[1] * down.shape[1], _bands(across.shape[1])
        self.node = (row[:, :, None] * across.shape[1] + col[:, None]).reshape(-1, 16)  # ascending
        self.value = (by_row[:, :, None] * by_col[:, None]).reshape(-1, 16)
        low, high = np.triu_indices(16)
        self._place = (self.node[:, high] - self.node[:, low]) * self.nodes + self.node[:, low]
        self._product = self.value[:, low] * self.value[:, high]

    def normal(self, weight: np.ndarray) -> np.ndarray:
        """(bands, nodes): in row d and column n what nodes n and n + d have in common, each point by its weight (N,)."""
        common = np.bincount(self._place.ravel(), (self._product * weight[:, None]).ravel(), self.bands * self.nodes)
        return common.reshape(self.bands, self.nodes)

    def gathered(self, values: np.ndarray) -> np.ndarray:
        """(nodes,) of values (N,)."""
        return np.bincount(self.node.ravel(), (self.value * values[:, None]).ravel(), self.nodes)


def _four(weights: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Of the weights (N, count) at each place the first of four in a row, outside which all are 0: columns, and weights (N, 4)."""
    first = np.minimum((weights > 0).argmax(1), weights.shape[1] - 4)
    columns = first[:, None] + np.arange(4)
    return columns, np.take_along_axis(weights, columns, axis=1)


def _solve(basis: _Basis, weight: np.ndarray, shift: np.ndarray, calm: np.ndarray) -> np.ndarray:
    """(nodes, 2): the two directions hang together through each vote's say, so a node's x stands next to its y."""
    xx, xy, yy = (basis.normal(weight[:, i, j]) for i, j in ((0, 0), (0, 1), (1, 1)))
    normal = np.zeros((2 * basis.bands, 2 * basis.nodes))
    normal[::2, ::2], normal[::2, 1::2] = xx + calm, yy + calm
    normal[1::2, ::2], normal[1:-1:2, 1::2] = xy, xy[1:]
    pulled = (weight @ shift[..., None])[..., 0]
    right = np.stack([basis.gathered(pulled[:, k]) for k in (0, 1)], axis=1)
    return solveh_banded(normal, right.ravel(), lower=True).reshape(-1, 2)
