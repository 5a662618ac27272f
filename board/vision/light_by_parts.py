"""The light on a sheet whose fall is no slow one, as under the shadow of a hand: paper's level from place to place.

From the rim inwards: what goes on from block to block with no jump is paper, in shadow too; a tone or a solid begins with a jump,
and takes its light from the paper around it.
"""

import cv2
import numpy as np

# From trials on drawn pages in shadow, no source.
BLOCKS = 80  # along the longer side
PAPER_SHARE = 90  # percent: strokes are dark, and thinner than the paper between them
MOST_JUMP = 0.16  # of the paper's level, from one block to the next
LEAST_PAPER = 0.5  # of all blocks, that are paper
LEAST_RIM = 0.8  # of the blocks along the rim


def light_by_parts(gray: np.ndarray) -> np.ndarray | None:
    """The level (H, W) float of the paper of `gray` (uint8 (H, W)); None where too little of it is paper to tell."""
    levels = _levels(gray)
    if min(levels.shape) < 5:
        return None
    is_paper = _reached_from_rim(levels)
    rim = np.ones(levels.shape, bool)
    rim[1:-1, 1:-1] = False
    if is_paper.mean() < LEAST_PAPER or is_paper[rim].mean() < LEAST_RIM:
        return None
    filled = cv2.GaussianBlur(_filled(levels, is_paper), (3, 3), 0)
    return cv2.resize(filled, gray.shape[::-1], interpolation=cv2.INTER_CUBIC)


def _levels(gray: np.ndarray) -> np.ndarray:
    """The paper's level in blocks (h, w) that together cover the picture."""
    size = max(4, round(max(gray.shape) / BLOCKS))
    padded = cv2.copyMakeBorder(gray, 0, -gray.shape[0] % size, 0, -gray.shape[1] % size, cv2.BORDER_REFLECT)
    height, width = padded.shape[0] // size, padded.shape[1] // size
    blocks = padded.reshape(height, size, width, size).swapaxes(1, 2).reshape(height, width, -1)
    return np.percentile(blocks, PAPER_SHARE, axis=2).astype(np.float32)


def _reached_from_rim(levels: np.ndarray) -> np.ndarray:
    """The blocks (bool (h, w)) that the largest part which nowhere jumps takes in of those at the rim."""
    height, width = levels.shape
    # Twice as fine, so that the steps between neighbours have a place of their own.
    joined = np.zeros((2 * height - 1, 2 * width - 1), np.uint8)
    joined[::2, ::2] = 1
    joined[1::2, ::2] = np.abs(np.diff(levels, axis=0)) <= MOST_JUMP * np.maximum(levels[1:], levels[:-1])
    joined[::2, 1::2] = np.abs(np.diff(levels, axis=1)) <= MOST_JUMP * np.maximum(levels[:, 1:], levels[:, :-1])
    _, labels = cv2.connectedComponents(joined, connectivity=4)
    labels = labels[::2, ::2]
    at_rim = np.concatenate([labels[0], labels[-1], labels[:, 0], labels[:, -1]])
    return labels == np.bincount(at_rim).argmax()


def _filled(levels: np.ndarray, is_known: np.ndarray) -> np.ndarray:
    """The levels with what is not known taken from what is known around it."""
    known = is_known.astype(np.float32)
    values = levels * known
    while not known.all():
        around, weight = cv2.blur(values, (3, 3)), cv2.blur(known, (3, 3))
        new = (known == 0) & (weight > 1e-6)
        if not new.any():
            break
        values[new], known[new] = around[new] / weight[new], 1
    return values
