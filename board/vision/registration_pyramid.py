"""One drawing laid on another from coarse to fine: a guess for the whole sheet, then votes of its patches at growing size."""

from dataclasses import dataclass

import cv2
import numpy as np

from board.vision.coarse_alignment import find_placements
from board.vision.edge_field import edge_field
from board.vision.homography_fit import fit_homography, misses
from board.vision.patch_votes import PatchVotes, vote

COARSE_PX = 128


@dataclass(frozen=True)
class Level:
    """One size to work at: lengths in its own pixels, `long_side_px` the longer side of either picture."""

    long_side_px: int
    patch_px: int
    reach_px: int
    slack_px: float
    rounds: int


LEVELS = (Level(256, 48, 10, 1.5, 2), Level(512, 64, 8, 1.2, 2), Level(1024, 96, 8, 1.2, 1))


@dataclass(frozen=True)
class Alignment:
    """`H_before_to_after` (3, 3) in continuous pixels of the two pictures; `agreement` 0..1, the share of what the patches
    have to say that it satisfies; `votes` left over at the finest level, in its pixel indices, `scale` px of it to one px of after."""

    H_before_to_after: np.ndarray
    agreement: float
    votes: PatchVotes
    scale: tuple[float, float]


def align(before: np.ndarray, after: np.ndarray) -> Alignment | None:
    """Lays `before` on `after` (uint8 gray, any two sizes). None where nothing speaks for any place."""
    small = [shrunk(picture, COARSE_PX) for picture in (before, after)]
    placements = find_placements(*(edge_field(picture) for picture in small))
    starts = [_lift(place.H_before_to_after, before, after, *small) for place in placements]
    if not starts:
        return None
    best = max((_refine(before, after, start, LEVELS[0]) for start in starts), key=lambda alignment: alignment.agreement)
    for level in LEVELS[1:]:
        best = _refine(before, after, best.H_before_to_after, level)
    return best


def shrunk(gray: np.ndarray, long_side_px: int) -> np.ndarray:
    share = long_side_px / max(gray.shape)
    if share >= 1:
        return gray
    size = max(1, round(gray.shape[1] * share)), max(1, round(gray.shape[0] * share))
    return cv2.resize(gray, size, interpolation=cv2.INTER_AREA)


def _refine(before, after, H_before_to_after, level: Level) -> Alignment:
    small_before, small_after = shrunk(before, level.long_side_px), shrunk(after, level.long_side_px)
    fixed = edge_field(small_after)
    H = _lower(H_before_to_after, before, after, small_before, small_after)
    for round_ in range(level.rounds):
        votes = vote(_laid_over(small_before, H, fixed.shape), fixed, level.patch_px, level.reach_px, level.patch_px // 2)
        first_slack = level.reach_px / (2 if round_ == 0 else 4)
        step = fit_homography(votes, fixed.shape[::-1], level.slack_px, first_slack)
        H = step @ H
    held = misses(votes, step) < 2 * level.slack_px
    agreement = float(np.sum(held * votes.likeness) / max(1, len(votes)))
    scale = small_after.shape[1] / after.shape[1], small_after.shape[0] / after.shape[0]
    return Alignment(_lift(H, before, after, small_before, small_after), agreement, votes, scale)


def _laid_over(before, H, shape) -> np.ndarray:
    """The edge field of `before` as it lies in the frame of after; nothing where the sheet does not reach, nor at its rim."""
    size = shape[::-1]
    laid = cv2.warpPerspective(before, H, size, flags=cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
    inside = cv2.warpPerspective(np.full(before.shape, 255, np.uint8), H, size)
    inside = cv2.erode(inside, np.ones((7, 7), np.uint8), borderValue=255) == 255
    return np.where(inside, edge_field(laid), 0)


def _resize(picture, small) -> np.ndarray:
    """Continuous pixels of a picture to pixel indices of its small copy."""
    kx, ky = small.shape[1] / picture.shape[1], small.shape[0] / picture.shape[0]
    return np.array([[kx, 0, -0.5], [0, ky, -0.5], [0, 0, 1.0]])


def _lift(H_small, before, after, small_before, small_after) -> np.ndarray:
    return np.linalg.inv(_resize(after, small_after)) @ H_small @ _resize(before, small_before)


def _lower(H, before, after, small_before, small_after) -> np.ndarray:
    return _resize(after, small_after) @ H @ np.linalg.inv(_resize(before, small_before))
