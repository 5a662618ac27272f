"""Segments moved onto the middle of the stroke that they follow one side of.

A detector of edges finds the two sides of a drawn line, and where the tone differs beside it often only one of them. The drawn line
itself is the dark ridge between; across it, the middle is taken between the places where the dark has half its depth.
"""

import cv2
import numpy as np

REACH_PX = 6.0  # to either side: a stroke's width and room for what it lies on
STEP_PX = 0.75
PARTS, SAMPLES_A_PART = 8, 4
LEAST_DEPTH = 14.0  # grey values by which a stroke is darker than either side
LEAST_RIDGES = 0.5  # share of the parts in which there is a stroke at all
FARTHEST_PX = 4.0
WITHIN_PX = 2.0
BESIDE_STEPS = 2  # beyond the place where a stroke has half its depth, the tone beside it is reached
OUTLIER_PX = 1.0
MOST_TURN_RAD = np.radians(4.0)


def centred_on_strokes(segments: np.ndarray, gray: np.ndarray) -> np.ndarray:
    """(N, 4): `segments` (N, 4) px of `gray` uint8 (H, W), pixel centres at whole numbers; those that follow no stroke stay."""
    if not len(segments):
        return segments
    start, along = segments[:, :2], segments[:, 2:] - segments[:, :2]
    length = np.hypot(*along.T)
    normal = np.stack([-along[:, 1], along[:, 0]], axis=1) / length[:, None]
    profiles, offsets = _profiles(gray, start, along, normal)
    centre, is_ridge = _ridge_centres(profiles, offsets)
    place = (np.arange(PARTS) + 0.5) / PARTS
    shift, slope, is_stroke = _fitted(centre, is_ridge, place)
    is_stroke &= np.abs(slope) <= np.tan(MOST_TURN_RAD) * length
    at_ends = np.stack([shift - slope / 2, shift + slope / 2], axis=1)[..., None] * normal[:, None]
    return np.where(is_stroke[:, None], segments + at_ends.reshape(-1, 4), segments)


def stroke_depths(segments: np.ndarray, gray: np.ndarray) -> np.ndarray:
    """(N,) grey values by which each segment (N, 4) px is darker than the lighter of what lies on its two sides, on the median.

    Construction lines are faint beside the drawing that stands on them.
    """
    if not len(segments):
        return np.zeros(0)
    along = segments[:, 2:] - segments[:, :2]
    normal = np.stack([-along[:, 1], along[:, 0]], axis=1) / np.hypot(*along.T)[:, None]
    profiles, offsets = _profiles(gray, segments[:, :2], along, normal)
    return np.median(profiles.max(-1) - profiles[..., np.abs(offsets) <= WITHIN_PX].min(-1), axis=1)


def _profiles(gray: np.ndarray, start: np.ndarray, along: np.ndarray, normal: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """(N, PARTS, M) grey values across each part of each segment, and the offsets (M,) px they stand at."""
    offsets = np.arange(-REACH_PX, REACH_PX + STEP_PX / 2, STEP_PX)
    t = (np.arange(PARTS * SAMPLES_A_PART) + 0.5) / (PARTS * SAMPLES_A_PART)
    points = start[:, None, None] + t[:, None, None] * along[:, None, None] + offsets[:, None] * normal[:, None, None]
    x, y = points.reshape(len(start), -1, 2).astype(np.float32).transpose(2, 0, 1)
    values = _sampled(gray, x, y).reshape(len(start), PARTS, SAMPLES_A_PART, len(offsets))
    return values.mean(2), offsets


def _sampled(gray: np.ndarray, x: np.ndarray, y: np.ndarray) -> np.ndarray:
    """The picture at (N, K) points; a remap takes no more than 32767 rows."""
    rows = [cv2.remap(gray, x[i:i + 30000], y[i:i + 30000], cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
            for i in range(0, len(x), 30000)]
    return np.concatenate(rows).astype(np.float32)


def _ridge_centres(profiles: np.ndarray, offsets: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Where the middle of the dark is in each profile (…, M), px, and whether there is a stroke: dark between two lighter sides."""
    near = np.abs(offsets) <= FARTHEST_PX
    darkest = np.where(near, profiles, np.inf).argmin(-1)
    m = np.arange(len(offsets))
    low = np.take_along_axis(profiles, darkest[..., None], -1)
    left = np.where(m < darkest[..., None], profiles, -np.inf).max(-1)
    right = np.where(m > darkest[..., None], profiles, -np.inf).max(-1)
    depth = np.minimum(left, right) - low[..., 0]
    sides = [_side(profiles, low, depth, darkest, outwards) for outwards in (-1, 1)]
    centre = (sides[0] + sides[1]) / 2 * STEP_PX + offsets[0]
    return centre, (depth >= LEAST_DEPTH) & (np.abs(centre) <= FARTHEST_PX)


def _side(profiles: np.ndarray, low: np.ndarray, depth: np.ndarray, darkest: np.ndarray, outwards: int) -> np.ndarray:
    """Where, in steps, a stroke ends on one side: half way in grey to the tone that lies right beside it there."""
    m = np.arange(profiles.shape[-1])
    beyond = (m - darkest[..., None]) * outwards > 0
    light = _first(beyond & (profiles >= low + depth[..., None] / 2), outwards)
    tone = np.take_along_axis(profiles, np.clip(light + BESIDE_STEPS * outwards, 0, len(m) - 1)[..., None], -1)
    half = (low + np.maximum(tone, low)) / 2
    light = _first(beyond & (profiles >= half), outwards)
    at, before = (np.take_along_axis(profiles, np.clip(i, 0, len(m) - 1)[..., None], -1)[..., 0] for i in (light, light - outwards))
    share = np.clip((at - half[..., 0]) / np.where(np.abs(at - before) < 1e-6, 1.0, at - before), 0, 1)
    return light - outwards * share


def _first(where: np.ndarray, outwards: int) -> np.ndarray:
    """Index (…) of the true value that lies nearest to the dark; the last index on that side where there is none."""
    size = where.shape[-1]
    if outwards > 0:
        return np.where(where.any(-1), where.argmax(-1), size - 1)
    return np.where(where.any(-1), size - 1 - where[..., ::-1].argmax(-1), 0)


def _fitted(centre: np.ndarray, is_ridge: np.ndarray, place: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Of each segment the shift (N,) px at its middle and the slope (N,) px from end to end, through the parts that agree."""
    shown = np.where(is_ridge, centre, np.nan)
    enough = is_ridge.mean(1) >= LEAST_RIDGES
    shown[~enough] = 0.0
    middle = np.nanmedian(shown, axis=1)
    use = is_ridge & (np.abs(centre - middle[:, None]) <= 2 * OUTLIER_PX)
    for _ in range(2):
        shift, slope = _line(np.where(use, centre, 0.0), use, place - 0.5)
        use = is_ridge & (np.abs(centre - shift[:, None] - slope[:, None] * (place - 0.5)) <= OUTLIER_PX)
    shift, slope = _line(np.where(use, centre, 0.0), use, place - 0.5)
    return shift, slope, enough & (use.mean(1) >= LEAST_RIDGES)


def _line(values: np.ndarray, use: np.ndarray, place: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Least squares of values (N, P) where `use` over `place` (P,): value at 0 and slope."""
    count = np.maximum(use.sum(1), 1)
    p0 = (use * place).sum(1) / count
    v0 = (use * values).sum(1) / count
    spread = (use * (place - p0[:, None]) ** 2).sum(1)
    slope = (use * (place - p0[:, None]) * (values - v0[:, None])).sum(1) / np.maximum(spread, 1e-3)
    return v0 - slope * p0, slope
