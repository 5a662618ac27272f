"""What is asked of short arrays, thousands of them a page: numpy's general functions take several times as long on these."""

import numpy as np


def median_of(values: np.ndarray) -> float:
    """The median of `values` (N,); of an even number the mean of the middle two, and nan of none."""
    if not len(values):
        return float("nan")
    ordered, half = np.sort(values), len(values) // 2
    return float(ordered[half]) if len(values) % 2 else (float(ordered[half - 1]) + float(ordered[half])) / 2


def medians_of_rows(rows: np.ndarray) -> np.ndarray:
    """The median (N,) of each row of (N, M), M > 0, of a type that holds the sum of two of them."""
    ordered, half = np.sort(rows, axis=1), rows.shape[1] // 2
    return ordered[:, half].astype(float) if rows.shape[1] % 2 else (ordered[:, half - 1] + ordered[:, half]) / 2


def limit_of_share(values: np.ndarray, share: float) -> float:
    """What the `share` (0..1) of `values` (N,), N > 0, lies below, between two of them in proportion."""
    ordered = np.sort(values)
    at = share * (len(values) - 1)
    low = int(at)
    high = min(low + 1, len(values) - 1)
    return float(ordered[low] + (ordered[high] - ordered[low]) * (at - low))


def spread_of(values: np.ndarray) -> float:
    """The standard deviation of `values` (N,), N > 0."""
    aside = values - values.sum() / len(values)
    return float(np.sqrt(aside @ aside / len(values)))


def cross_of(first: np.ndarray, second: np.ndarray) -> np.ndarray:
    """The cross product (3,) of two vectors (3,)."""
    (a, b, c), (d, e, f) = first.tolist(), second.tolist()
    return np.array([b * f - c * e, c * d - a * f, a * e - b * d])


def values_at(picture: np.ndarray, row: np.ndarray, column: np.ndarray) -> np.ndarray:
    """picture[row, column] of a picture (H, W) that lies in memory row by row, for places (any shape, int) that are on it."""
    return picture.ravel().take(row * picture.shape[1] + column)
