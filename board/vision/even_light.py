"""Takes a slow fall of light over the paper out of a scan or a photograph of a page."""

import numpy as np

from board.vision.light_by_parts import light_by_parts
from board.vision.page_piece import page_side_px

PAPER = 245.0  # where the paper comes to lie
# A grey value that paper filled by a computer has: of so much of the picture, and so many times more than a step beside it. From
# trials, no source.
LIGHT, LEAST_FLAT, FLAT_OVER_BESIDE = 200, 0.03, 4
# What shows beyond the paper along the edge of a photograph laid flat by its corners, as a share of the longer side; it is there
# where so much of a side is so many grey values darker than what lies further in. From trials, no source.
SLIVER, LEAST_SLIVER, DARKER = 0.008, 0.1, 24


def rim_of(gray: np.ndarray) -> np.ndarray:
    """The values along the edge of a picture (H, W), a strip of four thousandths of its longer side."""
    width = max(2, round(0.004 * page_side_px(gray.shape)))
    sides = gray[:width], gray[-width:], gray[:, :width].T, gray[:, -width:].T
    return np.concatenate([side.ravel() for side in sides])


def even_light(gray: np.ndarray) -> np.ndarray:
    """`gray` (uint8 (H, W)) on evenly lit paper; the same array where its rim shows no fall of light, or no paper."""
    rim = rim_of(gray).astype(float)
    if np.ptp(np.percentile(rim, (10, 90))) < 12 or _is_flat(gray):
        return gray
    gray = _without_slivers(gray)
    rim = rim_of(gray).astype(float)
    low, high = np.percentile(rim, (10, 90))
    if high - low < 12 or low < 90:
        return gray
    ways = light_by_parts, _light_of_paper
    light = next((light for light in (measure(gray) for measure in ways) if _fits_rim(rim, light)), None)
    if light is None:  # painted up to the edge
        return gray
    return np.clip(gray * (PAPER / np.maximum(light, 1)), 0, 255).astype(np.uint8)


def _without_slivers(gray: np.ndarray) -> np.ndarray:
    """The picture with what lies just within the edge of the paper drawn out over what shows beyond it."""
    deep = max(2, round(SLIVER * page_side_px(gray.shape)))
    if min(gray.shape) < 4 * deep:
        return gray
    gray = gray.copy()
    for side in (gray, gray[::-1], gray.T, gray.T[::-1]):  # views: each has one side of the picture first
        if np.mean(side[deep].astype(np.int16) - side[0] > DARKER) >= LEAST_SLIVER:
            side[:deep] = side[deep]
    return gray


def _fits_rim(rim: np.ndarray, light: np.ndarray | None) -> bool:
    return light is not None and bool(np.mean(np.abs(rim - rim_of(light)) <= 12) >= 0.6)


def _is_flat(gray: np.ndarray) -> bool:
    """Whether the paper has one value, as a computer fills it; compression ripples it beside strokes alone. On what was scanned or
    photographed the grain goes over to the neighbouring values, and unevenly lit it is nowhere quite white."""
    counts = np.bincount(gray.ravel(), minlength=256) / gray.size
    beside = np.maximum(np.roll(counts, 1), np.roll(counts, -1))
    stands_out = (counts >= LEAST_FLAT) & (counts >= FLAT_OVER_BESIDE * beside)
    return bool(counts[252:].sum() > 0.01 or stands_out[LIGHT:].any())


def _light_of_paper(gray: np.ndarray) -> np.ndarray | None:
    """A slow surface (H, W) through the paper's level, which is surest at the rim; None where too few blocks agree."""
    rows, columns, levels = _bright_blocks(gray)
    basis = _slow_surface(columns, rows)
    keep = np.maximum(np.abs(rows), np.abs(columns)) > 0.92
    for _ in range(4):
        if keep.sum() < 12:
            return None
        weights, *_ = np.linalg.lstsq(basis[keep], levels[keep], rcond=None)
        keep = np.abs(levels - basis @ weights) < 8
    height, width = gray.shape
    x, y = np.meshgrid(np.linspace(-1, 1, width), np.linspace(-1, 1, height))
    return (_slow_surface(x.ravel(), y.ravel()) @ weights).reshape(gray.shape)


def _bright_blocks(gray: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """The paper's level in blocks: rows and columns of their middles in -1..1, and the 90th percentile of each."""
    size = max(8, int(page_side_px(gray.shape)) // 40)
    height, width = gray.shape[0] // size, gray.shape[1] // size
    blocks = gray[: height * size, : width * size].reshape(height, size, width, size).swapaxes(1, 2).reshape(height * width, -1)
    y, x = np.mgrid[0:height, 0:width]
    scale = 2 * size / gray.shape[0], 2 * size / gray.shape[1]
    levels = np.percentile(blocks, 90, axis=1) if len(blocks) else np.zeros(0)
    return (y.ravel() + 0.5) * scale[0] - 1, (x.ravel() + 0.5) * scale[1] - 1, levels


def _slow_surface(x: np.ndarray, y: np.ndarray) -> np.ndarray:
    return np.stack([np.ones_like(x), x, y, x * x, x * y, y * y], axis=1)
