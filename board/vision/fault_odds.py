"""How likely what misses its vanishing point is a fault, and not something meant: its signs, weighed.

Logistic regression: D. R. Cox, The regression analysis of binary sequences, 1958. The weights were fitted to 2364 panels drawn by
our own code, pencil and final line, into two thirds of which one fault was put on purpose (`tests.bench.fault_weights`). All faults
there are of loose things, which stand below the eye level mostly: what lies above it is told hardly ever.
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


# On the panels that they were fitted to, each told by weights fitted to others, of what is told one or two edges in a hundred were
# not off, one thing in twenty, and two other eye levels in a hundred (336 edges, 90 things and about 150 eye levels told rightly).
EDGE_OFF = Odds(2.0, -3.61, {
    "length": 1.57,
    "miss": -0.97,
    "to_less_sure": -6.79,
    "above_eye_level": -5.14,
    "corner_gaps": -0.27,
    "meets_fellows": 0.40,
    "meets_strangers": -0.55,
    "edges_stop_at_it": 0.30,
    "rises_and_edges_stop": 0.83,
    "strange_around": -0.29,
    "clear_and_in_order": 5.65,
    "in_order_on_a_side": 1.58,
    "companions": 0.61,
    "as_askew": -1.20,
    "strays_near": -0.48,
    "as_raised": -1.54,
    "has_gable": -1.49,
    "slopes_in_a_row": -0.83,
})

THING_TURNED = Odds(2.0, -6.85, {
    "gain": 2.47,
    "edges": 1.85,
    "explained": 2.86,
    "turn": -0.98,
    "width": 0.55,
    "another_eye_level": -0.37,
    "misses_left": -1.61,
    "doubts": 0.43,
    "above_eye_level": -3.87,
    "order": 4.02,
})

EYE_LEVEL_SPLIT = Odds(0.8, -11.67, {
    "gain": 4.08,
    "shift": -0.90,
    "turn_gain": -0.88,
    "run_apart": 1.41,
    "order": 5.54,
    "above_eye_level": -2.38,
})
