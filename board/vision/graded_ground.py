"""The ground of a page that was filled with a slow change of tones: how far everything lies from it."""

import numpy as np

from board.vision.even_light import rim_of
from board.vision.ground_value import LEAST_TOLERANCE, share_of_strips
from board.vision.page_piece import page_side_px

# From trials on drawn pages, no source.
LEAST_CHANGE = 12  # grey values along the rim, less than which is one tone
MOST_STEP, STEP_PX = 10, 0.01  # grey values from one place of the rim to the next, so much of the longer side apart
LEAST_PLAIN = 0.97  # of every side, that goes along with its own middle values
# A score of `share_of_strips`: drawings that fill their page had up to 0.014, pages with gutters 0.095 and more.
LEAST_GUTTERS = 0.04
WHITE = 255


def level_ground(gray: np.ndarray) -> np.ndarray:
    """`gray` (uint8 (H, W)) as white where it has the tone of the ground, and as much darker as it is off that elsewhere; the same
    array where the rim is of one tone, or shows no slow change, or what lies within has no gutters of it.

    The tones within are those of the four sides put together: exact where the change runs level, upright or aslant.
    """
    if np.ptp(np.percentile(rim_of(gray), (5, 95))) < LEAST_CHANGE or min(gray.shape) < 2 / STEP_PX:
        return gray
    depth = max(2, round(0.004 * page_side_px(gray.shape)))
    sides = []
    for side in (gray[:depth], gray[-depth:], gray[:, :depth].T, gray[:, -depth:].T):
        if (tones := _tones_along(side)) is None:
            return gray
        sides.append(tones)
    level = (WHITE - np.abs(gray - _put_together(*sides)).clip(0, WHITE)).astype(np.uint8)
    return level if share_of_strips(level[::3, ::3], WHITE) >= LEAST_GUTTERS else gray


def _tones_along(side: np.ndarray) -> np.ndarray | None:
    """The tones (N,) along one side of a picture, (depth, N); None where they jump, or something is drawn there."""
    tones = np.median(side, axis=0)
    step = max(1, round(STEP_PX * len(tones)))
    places = np.append(np.arange(0, len(tones) - 1, step), len(tones) - 1)
    smooth = np.array([np.median(tones[max(0, k - step) : k + step + 1]) for k in places])
    tones = np.interp(np.arange(len(tones)), places, smooth)
    is_plain = np.mean(np.abs(side - tones) <= LEAST_TOLERANCE) >= LEAST_PLAIN
    return tones if is_plain and np.abs(np.diff(smooth)).max() <= MOST_STEP else None


def _put_together(upper: np.ndarray, lower: np.ndarray, left: np.ndarray, right: np.ndarray) -> np.ndarray:
    """A surface (H, W) that has the tones of the four sides, by Coons, Surfaces for computer-aided design of space forms, 1967."""
    down, across = np.linspace(0, 1, len(left))[:, None], np.linspace(0, 1, len(upper))
    sides = (1 - down) * upper + down * lower + (1 - across) * left[:, None] + across * right[:, None]
    corners = (1 - down) * ((1 - across) * upper[0] + across * upper[-1]) + down * ((1 - across) * lower[0] + across * lower[-1])
    return sides - corners
