"""What is counted quickly for short arrays is what numpy counts."""

import numpy as np
import pytest

from board.vision.short_arrays import limit_of_share, median_of, medians_of_rows, spread_of, values_at

RNG = np.random.default_rng(7)
SHORT = [RNG.normal(size=count) * 10 for count in (1, 2, 3, 10, 11, 250)] + [RNG.integers(0, 256, 9).astype(np.uint8)]


@pytest.mark.parametrize("values", SHORT, ids=lambda values: f"{len(values)} {values.dtype}")
def test_of_one_array_they_are_as_numpy_has_them(values):
    assert median_of(values) == np.median(values)
    assert spread_of(values.astype(float)) == pytest.approx(np.std(values), abs=1e-12)
    for share in (0.0, 0.25, 0.9, 1.0):
        assert limit_of_share(values.astype(float), share) == pytest.approx(np.percentile(values, 100 * share), abs=1e-12)


def test_two_bytes_have_a_median_past_what_a_byte_holds_of_their_sum():
    assert median_of(np.array([200, 250], np.uint8)) == 225


def test_nothing_has_no_median():
    assert np.isnan(median_of(np.zeros(0)))


@pytest.mark.parametrize("width", [1, 2, 5, 6])
def test_rows_have_the_medians_that_numpy_has(width):
    rows = RNG.integers(0, 256, (40, width)).astype(np.int16)
    assert np.array_equal(medians_of_rows(rows), np.median(rows, axis=1))


def test_values_are_those_at_the_places_also_of_a_part_of_a_picture():
    picture = RNG.integers(0, 256, (30, 50)).astype(np.uint8)
    row, column = RNG.integers(0, 20, (6, 4)), RNG.integers(0, 15, (6, 4))
    for part in (picture, picture[3:25, 7:40], picture.T):
        assert np.array_equal(values_at(part, row, column), part[row, column])
