"""How much darker a line is than what lies on its two sides: alike on white and on a tone, as ink and pencil are laid on."""

import cv2
import numpy as np

REACH_PX = 6.0  # to either side: a stroke's width and room for what it lies on
STEP_PX = 0.75
PARTS, SAMPLES_A_PART = 8, 4
WITHIN_PX = 2.0
LONG_SHARE, USUAL_PERCENTILE = 0.04, 60  # of the picture's diagonal: the lines that show how dark a drawing is


def stroke_depths(segments: np.ndarray, gray: np.ndarray) -> np.ndarray:
    """(N,) 0 to 1, the share of the lighter of its two sides by which each segment (N, 4) px is darker than it, on the median.

    Construction lines are faint beside the drawing that stands on them.
    """
    if not len(segments):
        return np.zeros(0)
    along = segments[:, 2:] - segments[:, :2]
    normal = np.stack([-along[:, 1], along[:, 0]], axis=1) / np.hypot(*along.T)[:, None]
    profiles, offsets = _profiles(gray, segments[:, :2], along, normal)
    beside = np.maximum(profiles.max(-1), 1.0)
    return np.median(1 - profiles[..., np.abs(offsets) <= WITHIN_PX].min(-1) / beside, axis=1)


def usual_depth(depths: np.ndarray, length_px: np.ndarray, diagonal_px: float) -> float | None:
    """How dark the long ones of a drawing's lines are, of `depths` (N,) and `length_px` (N,); None where none is long."""
    long = length_px >= LONG_SHARE * diagonal_px
    return float(np.percentile(depths[long], USUAL_PERCENTILE)) if long.any() else None


def _profiles(gray: np.ndarray, start: np.ndarray, along: np.ndarray, normal: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """(N, PARTS, M) grey values across each part of each segment, and the offsets (M,) px they stand at."""
    offsets = np.arange(-REACH_PX, REACH_PX + STEP_PX / 2, STEP_PX)
    t = (np.arange(PARTS * SAMPLES_A_PART) + 0.5) / (PARTS * SAMPLES_A_PART)
    x, y = ((start[:, k, None, None] + t[:, None] * along[:, k, None, None] + offsets * normal[:, k, None, None])
            .astype(np.float32).reshape(len(start), -1) for k in (0, 1))
    values = _sampled(gray, x, y).reshape(len(start), PARTS, SAMPLES_A_PART, len(offsets))
    return values.mean(2), offsets


def _sampled(gray: np.ndarray, x: np.ndarray, y: np.ndarray) -> np.ndarray:
    """The picture at (N, K) points; a remap takes no more than 32767 rows."""
    rows = [cv2.remap(gray, x[i:i + 30000], y[i:i + 30000], cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
            for i in range(0, len(x), 30000)]
    return np.concatenate(rows).astype(np.float32)
