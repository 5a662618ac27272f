"""How far each patch of one drawing has to move to lie on the other: many small, independent votes."""

from dataclasses import dataclass

import cv2
import numpy as np

from board.vision.edge_field import as_channels

# A patch with fewer edges than this (mean square of the field) has nothing to say.
BARE_PATCH = 0.004
# A straight line fixes a patch across it, hardly along it: the weak direction keeps this share of the strong one's say.
ALONG_A_LINE = 0.02

DOUBT = 2.0


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
    here, there = as_channels(moving), as_channels(fixed)
    there = cv2.copyMakeBorder(there, reach_px, reach_px, reach_px, reach_px, cv2.BORDER_CONSTANT, value=0)
    energy = cv2.boxFilter(np.abs(moving) ** 2, -1, (patch_px, patch_px), anchor=(0, 0), borderType=cv2.BORDER_CONSTANT)
    votes = []
    for y in _starts(moving.shape[0], patch_px, step_px):
        for x in _starts(moving.shape[1], patch_px, step_px):
            if energy[y, x] >= BARE_PATCH:
                patch = here[y : y + patch_px, x : x + patch_px]
                window = there[y : y + patch_px + 2 * reach_px, x : x + patch_px + 2 * reach_px]
                votes.append(((x + (patch_px - 1) / 2, y + (patch_px - 1) / 2), *_peak(patch, window, reach_px)))
    return _gathered(votes)


def _starts(length: int, patch_px: int, step_px: int) -> np.ndarray:
    room = length - patch_px
    if room < 0:
        return np.array([], int)
    return np.unique(np.linspace(0, room, max(1, round(room / step_px)) + 1).round().astype(int))


def _peak(patch: np.ndarray, window: np.ndarray, reach_px: int) -> tuple[np.ndarray, float, float, np.ndarray]:
    surface = cv2.matchTemplate(window, patch, cv2.TM_CCORR_NORMED)
    surface = np.nan_to_num(surface, nan=0.0, posinf=0.0, neginf=0.0)
    _, height, _, (x, y) = cv2.minMaxLoc(surface)
    x_in, y_in = min(max(x, 1), surface.shape[1] - 2), min(max(y, 1), surface.shape[0] - 2)
    say, offset = _shape_of_peak(surface[y_in - 1 : y_in + 2, x_in - 1 : x_in + 2])
    if (x, y) != (x_in, y_in):
        offset = np.zeros(2)
    near = max(2, reach_px // 2)
    surface[max(0, y - near) : y + near + 1, max(0, x - near) : x + near + 1] = 0
    return np.array([x - reach_px, y - reach_px]) + offset, height, float(surface.max()), say


def _shape_of_peak(around: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """From 3 x 3 values about a peak: how sharply it falls off, made into a say (2, 2), and where it lies between the pixels."""
    gx, gy = (around[1, 2] - around[1, 0]) / 2, (around[2, 1] - around[0, 1]) / 2
    xx, yy = 2 * around[1, 1] - around[1, 2] - around[1, 0], 2 * around[1, 1] - around[2, 1] - around[0, 1]
    xy = -(around[2, 2] - around[2, 0] - around[0, 2] + around[0, 0]) / 4
    values, vectors = np.linalg.eigh(np.array([[xx, xy], [xy, yy]], float))
    if values[1] <= 1e-6:
        return np.eye(2) * ALONG_A_LINE, np.zeros(2)
    softened = np.clip(values / values[1], ALONG_A_LINE, 1)
    offset = vectors @ ((vectors.T @ np.array([gx, gy])) / (softened * values[1]))
    return (vectors * softened) @ vectors.T, np.clip(offset, -0.7, 0.7)


def _gathered(votes: list) -> PatchVotes:
    if not votes:
        return PatchVotes(np.zeros((0, 2)), np.zeros((0, 2)), np.zeros(0), np.zeros(0), np.zeros((0, 2, 2)))
    return PatchVotes(*(np.array(column, float) for column in zip(*votes, strict=True)))
