"""Logistic regression: the weights of signs by which one thing is told from another."""

import numpy as np
from scipy.optimize import minimize

VARIANCE = 1.0  # that is believed of a weight, for signs of spread 1
FOLDS = 4


def fitted(signs: np.ndarray, is_it: np.ndarray) -> tuple[float, np.ndarray]:
    """Bias and weights (S,) of logistic regression on `signs` (N, S); what is believed beforehand is the same for every sign."""
    middle, spread = signs.mean(0), signs.std(0) + 1e-9
    at, sign = np.column_stack([np.ones(len(signs)), (signs - middle) / spread]), np.where(is_it, 1.0, -1.0)

    def loss(weights: np.ndarray) -> tuple[float, np.ndarray]:
        held, odds = np.r_[0.0, weights[1:]] / VARIANCE, sign * (at @ weights)
        return np.logaddexp(0, -odds).sum() + held @ weights / 2, held - at.T @ (sign / (1 + np.exp(odds)))

    found = minimize(loss, np.zeros(at.shape[1]), jac=True, method="L-BFGS-B", options={"maxiter": 3000}).x
    weights = found[1:] / spread
    return float(found[0] - middle @ weights), weights


def odds_by_others(signs: np.ndarray, is_it: np.ndarray, owner: np.ndarray) -> np.ndarray:
    """(N,) nats, each by weights fitted to what has other owners: the lines of one page are alike. `owner` (N,) whole numbers."""
    odds = np.zeros(len(signs))
    for fold in range(FOLDS):
        held = owner % FOLDS == fold
        bias, weights = fitted(signs[~held], is_it[~held])
        odds[held] = bias + signs[held] @ weights
    return odds
