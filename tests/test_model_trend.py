"""A character's drift over pages: seeded charts, flat and drifting ones."""

import numpy as np
import pytest

from board.model_trend import ModelTrend, find_trend
from board.not_measured import NotMeasured


def chart(rng, pages=12, drift=0.0, sigma=0.2, figures=2, scatter=0.0):
    """Figures a page, whose head count runs from 7 to 7 + drift."""
    heads = 7 + drift * np.linspace(0, 1, pages) + rng.normal(0, scatter, pages)
    return [(page + 1, heads[page] + rng.normal(0, sigma), sigma) for page in range(pages) for _ in range(figures)]


def test_an_exact_drift_is_read_from_first_page_to_last():
    trend = find_trend([(page, 7 - 0.1 * page, 0.1) for page in (2, 3, 5, 9)])
    assert isinstance(trend, ModelTrend)
    assert (trend.first_heads, trend.last_heads, trend.drift) == pytest.approx((6.8, 6.1, -0.7))


@pytest.mark.parametrize("scatter", [0.0, 0.1])
def test_seeded_drifts_of_a_head_are_found_and_steady_characters_are_not_scolded(scatter):
    rng = np.random.default_rng(3)
    drifting = sum(find_trend(chart(rng, drift=rng.choice([-1, 1]), scatter=scatter)).is_off(0.5) for _ in range(300))
    steady = sum(find_trend(chart(rng, scatter=scatter)).is_off(0.5) for _ in range(300))
    assert drifting >= 0.9 * 300
    assert steady <= 0.01 * 300


def test_the_stated_error_is_what_seeded_charts_show():
    rng = np.random.default_rng(4)
    trends = [find_trend(chart(rng)) for _ in range(1000)]
    stated = find_trend([(page, 7, 0.2 / 2**0.5) for page in range(12)]).sigma
    assert np.std([trend.drift for trend in trends]) == pytest.approx(stated, rel=0.1)


def test_figures_of_one_page_are_taken_together_by_their_weight():
    trend = find_trend([(1, 6, 0.1), (1, 8, 0.1), (2, 7, 0.1), (3, 7, 0.1), (4, 7, 0.1), (4, 9, 1000.0)])
    assert [(page, round(heads, 3)) for page, heads, _ in trend.pages] == [(1, 7.0), (2, 7.0), (3, 7.0), (4, 7.0)]
    assert trend.drift == pytest.approx(0, abs=1e-6)


def test_order_of_the_measures_makes_no_difference():
    rows = chart(np.random.default_rng(1), drift=1.0)
    assert find_trend(rows[::-1]).drift == pytest.approx(find_trend(rows).drift)


@pytest.mark.parametrize("rows", [[], [(1, 7, 0.1)] * 9, [(1, 7, 0.1), (2, 7, 0.1), (3, 7, 0.1)]])
def test_too_few_pages_show_no_trend(rows):
    assert isinstance(find_trend(rows), NotMeasured)
