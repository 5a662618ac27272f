"""The straight line through measured places, in closed form: a page asks for thousands."""

import numpy as np


def slope_and_start(places: np.ndarray, values: np.ndarray) -> tuple[float, float]:
    """Slope and value at 0 of the line that fits `values` (N,) over `places` (N,) with least squares; level where all are one."""
    middle, level = float(places.sum()) / len(places), float(values.sum()) / len(values)
    aside = places - middle
    spread = float(aside @ aside)
    slope = float(aside @ values) / spread if spread > 0 else 0.0
    return slope, level - slope * middle
