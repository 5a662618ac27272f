"""Takes a slow fall of light over the paper out of a scan or a photograph of a page."""

import numpy as np

PAPER = 245.0  # where the paper comes to lie
# A grey value that paper filled by a computer has: of so much of the picture, and so many times more than a few steps beside it.
# From trials, no source.
LIGHT, LEAST_FLAT, FLAT_OVER_BESIDE, FLAT_STEPS = 200, 0.03, 8, 4


def rim_of(gray: np.ndarray) -> np.ndarray:
    """The values along the edge of a picture (H, W), a strip of four thousandths of its longer side."""
    width = max(2, round(0.004 * max(gray.shape)))
    sides = gray[:width], gray[-width:], gray[:, :width].T, gray[:, -width:].T
    return np.concatenate([side.ravel() for side in sides])


def even_light(gray: np.ndarray) -> np.ndarray:
    """`gray` (uint8 (H, W)) on evenly lit paper; the same array where its rim shows no fall of light, or no paper."""
    rim = rim_of(gray).astype(float)
    low, high = np.percentile(rim, (10, 90))
    if high - low < 12 or low < 90 or _is_flat(gray):
        return gray
    light = _light_of_paper(gray)
    if light is None or np.mean(np.abs(rim - rim_of(light)) <= 12) < 0.6:  # painted up to the edge
        return gray
    return np.clip(gray * (PAPER / np.maximum(light, 1)), 0, 255).astype(np.uint8)


def _is_flat(gray: np.ndarray) -> bool:
    """Whether the paper has one value, as a computer fills it. Unevenly lit it is nowhere quite white, and of no value there is
    much with little of its neighbours."""
    counts = np.bincount(gray.ravel(), minlength=256) / gray.size
    here = np.convolve(counts, np.ones(3), "same")  # compression strays by a step
    beside = np.maximum(np.roll(here, FLAT_STEPS), np.roll(here, -FLAT_STEPS))
    stands_out = (here >= LEAST_FLAT) & (here >= FLAT_OVER_BESIDE * beside)
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
    size = max(8, max(gray.shape) // 40)
    height, width = gray.shape[0] // size, gray.shape[1] // size
    blocks = gray[: height * size, : width * size].reshape(height, size, width, size).swapaxes(1, 2).reshape(height * width, -1)
    y, x = np.mgrid[0:height, 0:width]
    scale = 2 * size / gray.shape[0], 2 * size / gray.shape[1]
    levels = np.percentile(blocks, 90, axis=1) if len(blocks) else np.zeros(0)
    return (y.ravel() + 0.5) * scale[0] - 1, (x.ravel() + 0.5) * scale[1] - 1, levels


def _slow_surface(x: np.ndarray, y: np.ndarray) -> np.ndarray:
    return np.stack([np.ones_like(x), x, y, x * x, x * y, y * y], axis=1)
