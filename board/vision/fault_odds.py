"""How likely what misses its vanishing point is a fault, and not something meant: its signs, weighed.

Logistic regression: D. R. Cox, The regression analysis of binary sequences, 1958. The weights were fitted to 3128 panels drawn by
our own code, pencil and final line, into most of which one fault was put on purpose (`tests.bench.fault_weights`). All faults there
are of loose things, which stand below the eye level mostly: what lies above it is told hardly ever.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np


@dataclass(frozen=True)
class Odds:
    """`weights` by the name of each sign; what has fewer than `least` nats is not told."""

    least: float
    bias: float
    weights: Mapping[str, float]

    def of(self, signs: Mapping[str, float]) -> float:
        """Nats for a fault, against anything else that it may be."""
        return self.bias + sum(weight * float(signs[name]) for name, weight in self.weights.items())


def confidence(odds: float) -> float:
    """0 to 1."""
    return float(1 / (1 + np.exp(-odds)))


# On panels of the same kinds, each told by weights fitted to others: 10 of the 418 edges told were not off, 7 of 242 things and
# 11 of 435 other eye levels. Of those that are looked at and are off, 51, 69 and 80 in a hundred were told.
EDGE_OFF = Odds(1.5, -6.35, {
    "length": 1.10,
    "straightness": 4.37,
    "darkness": 11.25,
    "to_less_sure": -6.28,
    "above_eye_level": -3.53,
    "next_best": 0.38,
    "order": -2.76,
    "corner_gaps": -0.12,
    "meets_strangers": -0.33,
    "edges_stop_at_it": 0.66,
    "stop_on_one_side": -0.58,
    "rises_and_edges_stop": 0.70,
    "closes_a_face": 0.37,
    "strange_around": -0.22,
    "clear_and_in_order": 4.58,
    "in_order_on_a_side": 1.28,
    "companions": 0.21,
    "alike_in_order": 0.89,
    "as_askew": -0.81,
    "as_raised": -1.50,
    "strays_held": -0.41,
    "strays_loose": -0.43,
    "strays_alike": -0.43,
    "has_gable": -0.97,
    "slopes_in_a_row": -0.82,
})

THING_TURNED = Odds(1.5, -6.75, {
    "gain": 2.44,
    "edges": 2.38,
    "explained": 1.79,
    "least_turn": 2.24,
    "least_turn_squared": -1.38,
    "another_eye_level": -0.50,
    "misses_left": -0.96,
    "doubts": -0.29,
    "doubt_deg": -1.90,
    "above_eye_level": -3.73,
    "edges_in_order": 0.57,
    "parallel": -1.24,
    "uprights": 3.23,
    "touch_each_other": 0.38,
})

EYE_LEVEL_SPLIT = Odds(1.5, -9.75, {
    "gain": 4.04,
    "shift": 0.16,
    "shift_squared": -0.33,
    "turn_gain": -1.24,
    "run_apart": 0.73,
    "above_eye_level": -1.23,
    "miss": -0.77,
    "doubts": 1.01,
    "darkness": 15.55,
    "uprights": 2.77,
    "touch_each_other": -1.28,
    "touch_strangers": -1.03,
    "touch_others": 0.59,
})
