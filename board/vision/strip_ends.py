"""Whether a strip ends on borders that run on past it unbroken: beams and boards end there, and a gutter parts the borders."""

import numpy as np

NEAR_DARK = 60  # grey values above the border's
FLANK, BESIDE = 0.006, 0.016  # of the longer side: so far from the strip the strokes along it have ended, and borders are looked at
WITHIN, BEYOND = 0.008, 0.014  # of the longer side, of an end: there the border is
ASIDE_PX = 3  # so far a hand's border strays
LEAST_BORDER, LEAST_CLOSED = 0.9, 0.97  # of the way beside the strip, and across it
STICKS_OUT_PX = 3  # out of the border: so do strokes that cross it. From trials on drawn pages, as the above, no source.
LEAST_WIDTH = 0.006  # of the longer side: the borders beside a narrower gutter touch


def is_shut_off(gray: np.ndarray, ends: tuple[np.ndarray, np.ndarray], normal: np.ndarray, flanks: tuple[float, float],
                value: float, longer_px: float) -> bool:
    """Whether at both ends of a strip a border runs unbroken past it, and no stroke along the strip sticks out of it.

    gray: uint8 (H, W). ends: two points (2,) px between which the strip runs, square to `normal`; flanks: its offsets along that.
    value: the grey value of borders.
    """
    low, high = flanks
    if high - low < LEAST_WIDTH * longer_px:
        return False
    run = (ends[1] - ends[0]) / max(1e-9, float(np.hypot(*(ends[1] - ends[0]))))
    across = np.arange(low - BESIDE * longer_px, high + BESIDE * longer_px + 1)
    along = np.arange(-round(WITHIN * longer_px), round(BEYOND * longer_px) + 1)
    for end, way in ((ends[0], -run), (ends[1], run)):
        points = end + (across - end @ normal)[:, None, None] * normal + along[:, None] * way
        if not _is_unbroken(_is_dark(gray, points, value), across, low, high, FLANK * longer_px):
            return False
    return True


def _is_dark(gray: np.ndarray, points: np.ndarray, value: float) -> np.ndarray:
    x, y = np.floor(points[..., 0]).astype(int), np.floor(points[..., 1]).astype(int)
    is_within = (x >= 0) & (y >= 0) & (x < gray.shape[1]) & (y < gray.shape[0])
    return is_within & (gray[np.clip(y, 0, gray.shape[0] - 1), np.clip(x, 0, gray.shape[1] - 1)] < value + NEAR_DARK)


def _is_unbroken(dark: np.ndarray, across: np.ndarray, low: float, high: float, flank_px: float) -> bool:
    """Of one end, `dark` (bool (N, T)) from within the strip outward, by rows at the offsets `across` (N,)."""
    before, after = across < low - flank_px, across > high + flank_px
    near = dark.copy()
    for step in (1, 2):
        near[:, step:] |= dark[:, :-step]
        near[:, :-step] |= dark[:, step:]
    covered = (near[before].mean(axis=0) + near[after].mean(axis=0)) / 2
    if covered.max() < LEAST_BORDER:
        return False
    outer = _outer_edges(dark, int(np.median(np.flatnonzero(covered == covered.max()))))
    if np.isfinite(outer[(across > low) & (across < high)]).mean() < LEAST_CLOSED:
        return False
    by_low, by_high = (across >= low - flank_px) & (across < low + 1), (across > high - 1) & (across <= high + flank_px)
    return all(_sticks_out_px(outer, *places) < STICKS_OUT_PX for places in ((by_low, before), (by_high, after)))


def _outer_edges(dark: np.ndarray, column: int) -> np.ndarray:
    """Where outward (N,) the stroke at a column ends, row by row; nan where none is near it."""
    columns = np.arange(dark.shape[1])
    aside = np.where(dark, np.abs(columns - column), dark.shape[1])
    start = aside.argmin(axis=1)
    is_past = ~dark & (columns > start[:, None])
    end = np.where(is_past.any(axis=1), is_past.argmax(axis=1), dark.shape[1])
    return np.where(aside.min(axis=1) <= ASIDE_PX, end, np.nan)


def _sticks_out_px(outer: np.ndarray, places: np.ndarray, beside: np.ndarray) -> float:
    """How far past the border, as it runs beside them, the stroke reaches at some places."""
    there, usual = outer[places], outer[beside]
    there, usual = there[np.isfinite(there)], usual[np.isfinite(usual)]
    return float(there.max() - np.median(usual)) if len(there) and len(usual) else 0.0
