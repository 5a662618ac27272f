"""What of a page is ground: the paper around and between the panels, light, dark or toned."""

from dataclasses import dataclass

import cv2
import numpy as np

# Neither antialiasing nor the noise of a scan is drawing; from trials on pages and on drawn layouts, no source.
LEAST_TOLERANCE = 6
MOST_TOLERANCE = 40
SLOT_LENGTH = 0.04  # of the longer side of the page
SLOT_WIDTH = 0.03


@dataclass(frozen=True)
class PageGround:
    """Masks of one reduced picture, both bool (H, W)."""

    paper: np.ndarray  # has the value of the ground, wherever it lies
    ground: np.ndarray  # paper that is reached from the edge of the picture without crossing a line
    slots: np.ndarray  # long thin paper that is not reached: gutters closed by strokes that cross them, or lines close together


def find_ground(gray: np.ndarray) -> PageGround:
    """The ground of `gray` (uint8 (H, W)); a full-bleed picture has paper by its most likely value and may have no ground."""
    even = _even_light(gray)
    value, tolerance = _ground_value(even)
    paper = np.abs(even.astype(np.int16) - value) <= tolerance
    ground = reached_from_edge(paper)
    return PageGround(paper, ground, _slots(paper & ~ground))


def reached_from_edge(paper: np.ndarray) -> np.ndarray:
    """The part of `paper` (bool (H, W)) that hangs together with the edge of the picture."""
    _, labels = cv2.connectedComponents(paper.astype(np.uint8), connectivity=4)
    rim = np.concatenate([labels[0], labels[-1], labels[:, 0], labels[:, -1]])
    on_rim = np.zeros(labels.max() + 1, bool)
    on_rim[rim] = True
    on_rim[0] = False
    return on_rim[labels]


def _slots(enclosed: np.ndarray) -> np.ndarray:
    """The parts of `enclosed` (bool (H, W)) that are long and nowhere wider than a gutter."""
    longer = max(enclosed.shape)
    count, labels, stats, _ = cv2.connectedComponentsWithStats(enclosed.astype(np.uint8), connectivity=4)
    reach = cv2.distanceTransform(enclosed.astype(np.uint8), cv2.DIST_L2, 3)
    widest = np.zeros(count)
    np.maximum.at(widest, labels[reach > 0], reach[reach > 0])
    is_slot = (stats[:, 2:4].max(axis=1) >= SLOT_LENGTH * longer) & (widest <= SLOT_WIDTH / 2 * longer)
    is_slot[0] = False
    return is_slot[labels]


def _rim(gray: np.ndarray) -> np.ndarray:
    """The grey values along the edge of the picture, a strip of four thousandths of its longer side."""
    width = max(2, round(0.004 * max(gray.shape)))
    sides = gray[:width], gray[-width:], gray[:, :width].T, gray[:, -width:].T
    return np.concatenate([side.ravel() for side in sides])


def _ground_value(gray: np.ndarray) -> tuple[int, float]:
    """Value and tolerance: the value that most of the rim shares, or, where panels bleed off, that of the gutters."""
    rim = _rim(gray)
    counts = np.bincount(rim, minlength=256).astype(float)
    shares = np.convolve(counts, np.ones(2 * LEAST_TOLERANCE + 1), "same") / rim.size
    value = int(shares.argmax())
    if shares[value] < 0.5:
        small = gray[::3, ::3]
        value = max(_candidates(shares), key=lambda level: _likelihood(level, shares, small))
    near = rim[np.abs(rim.astype(int) - value) <= 20].astype(float)
    if near.size < 0.05 * rim.size:
        return value, LEAST_TOLERANCE
    value = int(np.median(near))
    spread = 1.4826 * float(np.median(np.abs(near - value)))
    return value, float(np.clip(4 * spread + LEAST_TOLERANCE, LEAST_TOLERANCE, MOST_TOLERANCE))


def _likelihood(level: int, shares: np.ndarray, small: np.ndarray) -> float:
    """A score by trials: how much of the rim and of the gutters has this value, and that paper mostly is white.

    A toned ground has to show at every side of the page: one panel that bleeds off fills much of a rim too.
    """
    toned = 8 < level < 240
    sides = small[0], small[-1], small[:, 0], small[:, -1]
    least = min(float(np.mean(np.abs(side.astype(np.int16) - level) <= LEAST_TOLERANCE)) for side in sides)
    return (least if toned else shares[level]) + 6 * _share_of_strips(small, level) + (0.1 if level == 255 else 0.0)


def _candidates(shares: np.ndarray, most: int = 3) -> list[int]:
    """White, black and the values that the rim shows most, each well apart from the others."""
    found = [255, 0]
    left = shares.copy()
    for _ in range(most):
        level = int(left.argmax())
        left[max(0, level - 20) : level + 21] = 0
        found.append(level)
    return found


def _share_of_strips(small: np.ndarray, level: int) -> float:
    """Share of a picture that is long thin strips of this value, upright or level: gutters."""
    mask = (np.abs(small.astype(np.int16) - level) <= LEAST_TOLERANCE).astype(np.uint8)
    long = max(8, round(0.2 * max(small.shape)))
    wide = max(3, round(0.05 * max(small.shape)))
    strips = cv2.morphologyEx(mask, cv2.MORPH_OPEN, np.ones((1, long), np.uint8))
    strips |= cv2.morphologyEx(mask, cv2.MORPH_OPEN, np.ones((long, 1), np.uint8))
    # OpenCV takes what lies beyond the picture as set in an erosion, so a strip along the edge would count as wide.
    padded = cv2.copyMakeBorder(mask, wide, wide, wide, wide, cv2.BORDER_CONSTANT, value=0)
    areas = cv2.morphologyEx(padded, cv2.MORPH_OPEN, np.ones((wide, wide), np.uint8))[wide:-wide, wide:-wide]
    return float((strips & ~areas & 1).mean())


def _even_light(gray: np.ndarray) -> np.ndarray:
    """`gray` with a slow fall of light over the paper taken out, where the rim shows one."""
    rim = _rim(gray).astype(float)
    low, high = np.percentile(rim, (10, 90))
    if high - low < 12 or low < 90:
        return gray
    rows, columns, levels = _bright_blocks(gray)
    basis = _slow_surface(columns, rows)
    keep = np.ones(levels.size, bool)
    for _ in range(4):
        weights, *_ = np.linalg.lstsq(basis[keep], levels[keep], rcond=None)
        keep = levels - basis @ weights > -8
    height, width = gray.shape
    x, y = np.meshgrid(np.linspace(-1, 1, width), np.linspace(-1, 1, height))
    light = (_slow_surface(x.ravel(), y.ravel()) @ weights).reshape(gray.shape)
    if np.mean(np.abs(rim - _rim(light)) <= 12) < 0.6:  # painted up to the edge, and no paper
        return gray
    return np.clip(gray * (245.0 / np.maximum(light, 1)), 0, 255).astype(np.uint8)


def _bright_blocks(gray: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """The paper's level in blocks: rows and columns of their middles in -1..1, and the 90th percentile of each."""
    size = max(8, max(gray.shape) // 40)
    height, width = gray.shape[0] // size, gray.shape[1] // size
    blocks = gray[: height * size, : width * size].reshape(height, size, width, size).swapaxes(1, 2).reshape(height * width, -1)
    y, x = np.mgrid[0:height, 0:width]
    scale = 2 * size / gray.shape[0], 2 * size / gray.shape[1]
    levels = np.percentile(blocks, 90, axis=1)
    return (y.ravel() + 0.5) * scale[0] - 1, (x.ravel() + 0.5) * scale[1] - 1, levels


def _slow_surface(x: np.ndarray, y: np.ndarray) -> np.ndarray:
    return np.stack([np.ones_like(x), x, y, x * x, x * y, y * y], axis=1)
