"""The program that fits the weights of faults' signs, on signs whose weights are known."""

import numpy as np
import pytest

from tests.bench.fault_weights import fitted


def test_weights_are_found_back():
    """Simulated after the model itself; the error of each weight is about its spread over root N p (1 - p), some 0.05 here."""
    rng = np.random.default_rng(4)
    signs = rng.normal(size=(20_000, 3)) * [1.0, 0.5, 2.0] + [0.0, 3.0, 0.0]
    odds = -2.0 + signs @ [1.2, 0.8, -0.5]
    is_fault = rng.random(len(signs)) < 1 / (1 + np.exp(-odds))
    bias, weights = fitted(signs, is_fault)
    assert weights == pytest.approx([1.2, 0.8, -0.5], abs=0.15)
    assert bias == pytest.approx(-2.0, abs=0.4)


def test_a_sign_that_never_varies_says_nothing():
    signs = np.column_stack([np.arange(40.0), np.ones(40)])
    assert fitted(signs, np.arange(40) >= 20)[1][1] == pytest.approx(0.0, abs=1e-6)
