"""Weights of signs, on signs whose weights are known."""

import numpy as np
import pytest

from tests.bench.logistic_fit import fitted, odds_by_others


def test_weights_are_found_back():
    """Simulated after the model itself; the error of each weight is about its spread over root N p (1 - p), some 0.05 here."""
    rng = np.random.default_rng(4)
    signs = rng.normal(size=(20_000, 3)) * [1.0, 0.5, 2.0] + [0.0, 3.0, 0.0]
    odds = -2.0 + signs @ [1.2, 0.8, -0.5]
    is_it = rng.random(len(signs)) < 1 / (1 + np.exp(-odds))
    bias, weights = fitted(signs, is_it)
    assert weights == pytest.approx([1.2, 0.8, -0.5], abs=0.15)
    assert bias == pytest.approx(-2.0, abs=0.4)


def test_a_sign_that_never_varies_says_nothing():
    signs = np.column_stack([np.arange(40.0), np.ones(40)])
    assert fitted(signs, np.arange(40) >= 20)[1][1] == pytest.approx(0.0, abs=1e-6)


def test_nothing_is_told_by_its_own_owner():
    """Where each owner has its own sign, none of them says anything of the others."""
    owner = np.repeat(np.arange(8), 20)
    signs, is_it = np.eye(8)[owner], owner % 2 == 0
    assert np.abs(odds_by_others(signs, is_it, owner)).max() < 3 < np.abs(signs @ fitted(signs, is_it)[1]).max()
