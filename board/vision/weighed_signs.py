"""Signs weighed together, as a logistic regression does it."""

from operator import mul
from typing import Any


def weigh(signs: Any, weights: Any) -> float:
    """The sum of `signs`, each times its weight: two instances of one dataclass whose fields are numbers.

    `dataclasses.astuple` would copy each field deeply, which for thousands of them a page takes longer than all else here.
    """
    return float(sum(map(mul, vars(weights).values(), vars(signs).values())))
