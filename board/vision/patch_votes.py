"""How far each patch of one drawing has to move to lie on the other: many small, independent votes."""

from dataclasses import dataclass

import cv2
import numpy as np
from numpy.lib.stride_tricks import sliding_window_view
from scipy.fft import fft2, ifft, next_fast_len

# A patch with fewer edges than this (mean square of the field) has nothing to say.
BARE_PATCH = 0.004
# A straight line fixes a patch across it, hardly along it: the weak direction keeps this share of the strong one's say.
ALONG_A_LINE = 0.02
NOTHING = 1e-3  # root of the product of two sums of squares
DOUBT = 2.0
PATCHES_AT_ONCE = 8  # their spectra stay in the processor's own memory


@dataclass(frozen=True)
class PatchVotes:
    """N patches in pixel indices of the fixed field: patch `centre` (N, 2) belongs at centre + `shift` (N, 2).

    `likeness` (N,) is the normalised correlation there, 0..1; `runner_up` (N,) that of the best place elsewhere in reach;
    `say` (N, 2, 2) weighs a miss: 1 in the direction that the patch fixes best, less along its lines.
    """

    centre: np.ndarray
    shift: np.ndarray
    likeness: np.ndarray
    runner_up: np.ndarray
    say: np.ndarray

    @property
    def worth(self) -> np.ndarray:
        """What each vote counts (N,): a good likeness, and more where no other place in reach comes near it."""
        return self.likeness * np.maximum(self.likeness - self.runner_up, 0)

    def agreement(self, miss: np.ndarray, tolerance_px: float) -> float:
        """The share, 0..1, of the patches that lie where they belong, miss (N, 2) being what they are off by.

        A patch counts by how well it is fixed in both directions, since a plain line fits in many places by chance; two full
        patches' worth of doubt keep a nearly bare page from being sure.
        """
        fixed = np.linalg.eigvalsh(self.say)[:, 0]
        return float(fixed @ (np.hypot(*miss.T) < tolerance_px)) / (float(fixed.sum()) + DOUBT)

    def __len__(self) -> int:
        return len(self.centre)


def vote(moving: np.ndarray, fixed: np.ndarray, patch_px: int, reach_px: int, step_px: int) -> PatchVotes:
    """Matches patches of `moving` against `fixed`, two edge fields (H, W) in one frame that are off by `reach_px` at most.

    Patches stand every `step_px`; those with hardly an edge are left out. Sub-pixel by a parabola through the peak.
    """
    energy = _energies(moving, patch_px)
    y, x = (grid.ravel() for grid in np.meshgrid(*(_starts(length, patch_px, step_px) for length in moving.shape), indexing="ij"))
    drawn = energy[y, x] >= BARE_PATCH * patch_px**2
    y, x = y[drawn], x[drawn]
    if not len(x):
        return PatchVotes(np.zeros((0, 2)), np.zeros((0, 2)), np.zeros(0), np.zeros(0), np.zeros((0, 2, 2)))
    there = np.pad(fixed, reach_px)
    # Sums of squares that were taken as they slide may come out below 0 by a rounding.
    under = sliding_window_view(_energies(there, patch_px), (2 * reach_px + 1,) * 2)[y, x].clip(0)
    most = np.sqrt(under * energy[y, x, None, None])
    products = _products(moving, there, (y, x), patch_px, reach_px)
    likenesses = np.divide(products, most, out=np.zeros_like(products), where=most > NOTHING).clip(0, 1)
    return PatchVotes(np.stack([x, y], axis=1) + (patch_px - 1) / 2, *_peaks(likenesses, reach_px))


def _energies(field: np.ndarray, patch_px: int) -> np.ndarray:
    """(H, W) of each patch, by its upper left corner, the sum of its squares; what lies outside counts for 0."""
    squared = field.real * field.real + field.imag * field.imag
    return cv2.boxFilter(squared, -1, (patch_px,) * 2, anchor=(0, 0), normalize=False, borderType=cv2.BORDER_CONSTANT)


def _products(moving: np.ndarray, there: np.ndarray, corners: tuple[np.ndarray, np.ndarray], patch_px: int, reach_px: int
              ) -> np.ndarray:
    """(N, side, side) of the patches of `moving` at corners y, x (N,): the sum of the product with what lies under each, moved by
    up to `reach_px` either way over `there`, which is the larger by as much at each side. By way of their spectra."""
    side, reached = 2 * reach_px + 1, patch_px + 2 * reach_px
    length = next_fast_len(reached)
    windows, patches = (sliding_window_view(field, (px, px)) for field, px in ((there, reached), (moving, patch_px)))
    found = np.empty((len(corners[0]), side, side), np.float32)
    for at in range(0, len(found), PATCHES_AT_ONCE):
        some = slice(at, at + PATCHES_AT_ONCE)
        y, x = (corner[some] for corner in corners)
        spectra = fft2(windows[y, x], (length, length), overwrite_x=True)
        spectra *= fft2(patches[y, x], (length, length), overwrite_x=True).conj()
        found[some] = ifft(ifft(spectra, axis=1, overwrite_x=True)[:, :side], axis=2)[:, :, :side].real
    return found


def _starts(length: int, patch_px: int, step_px: int) -> np.ndarray:
    room = length - patch_px
    if room < 0:
        return np.array([], int)
    return np.unique(np.linspace(0, room, max(1, round(room / step_px)) + 1).round().astype(int))


def _peaks(surfaces: np.ndarray, reach_px: int) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
    """Shift, height, runner-up and say of the peaks of N surfaces (N, side, side)."""
    count, side, _ = surfaces.shape
    each, steps = np.arange(count), np.arange(side)
    y, x = np.divmod(surfaces.reshape(count, -1).argmax(1), side)
    y_in, x_in = np.clip(y, 1, side - 2), np.clip(x, 1, side - 2)
    around = surfaces[each[:, None, None], y_in[:, None, None] + [[-1], [0], [1]], x_in[:, None, None] + [[-1, 0, 1]]]
    say, offset = _shapes_of_peaks(around)
    offset[(x != x_in) | (y != y_in)] = 0
    near = max(2, reach_px // 2)
    is_near = (np.abs(steps - y[:, None]) <= near)[:, :, None] & (np.abs(steps - x[:, None]) <= near)[:, None, :]
    runner_up = np.where(is_near, 0, surfaces).max((1, 2))
    shift = np.stack([x, y], -1) - reach_px + offset
    return shift, surfaces[each, y, x].astype(float), runner_up.astype(float), say


def _shapes_of_peaks(around: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """From 3 x 3 values about each of N peaks: how sharply it falls off, made into a say (N, 2, 2), and where it lies between the
    pixels (N, 2)."""
    (nw, north, ne), (west, here, east), (sw, south, se) = np.moveaxis(around, 0, -1)
    slope = np.stack([(east - west) / 2, (south - north) / 2], -1).astype(float)
    xx, yy, xy = 2 * here - east - west, 2 * here - south - north, -(se - sw - ne + nw) / 4
    values, vectors = np.linalg.eigh(np.stack([xx, xy, xy, yy], -1).reshape(-1, 2, 2).astype(float))
    sharpest = values[:, 1:]
    is_flat = sharpest[:, 0] <= 1e-6
    sharpest[is_flat] = 1.0
    softened = np.clip(values / sharpest, ALONG_A_LINE, 1)
    along = np.einsum("nji,nj->ni", vectors, slope) / (softened * sharpest)
    offset = np.clip(np.einsum("nij,nj->ni", vectors, along), -0.7, 0.7)
    say = np.einsum("nij,nj,nkj->nik", vectors, softened, vectors)
    say[is_flat], offset[is_flat] = np.eye(2) * ALONG_A_LINE, 0.0
    return say, offset
