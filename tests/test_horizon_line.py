from math import nan

import pytest

from board.horizon_line import pointing_down

SHAPES = [(0.0, 1.0, -300.0), (0.1, 0.9, -250.0), (-0.15, 0.7, 40.0)]


@pytest.mark.parametrize("line", SHAPES)
@pytest.mark.parametrize("scale", [1.0, -1.0, 7.5, -0.002])
def test_a_line_in_any_scale_gives_the_px_below_it(line, scale):
    a, b, c = pointing_down([scale * number for number in line])
    assert a * a + b * b == pytest.approx(1.0)
    on_it = -line[2] / line[1]  # at x = 0
    assert b * on_it + c == pytest.approx(0.0, abs=1e-9)
    assert b * (on_it + 10) + c > 0


@pytest.mark.parametrize("line", [(1.0, 0.0, -5.0), (1.0, 0.2, -5.0), (0.0, 0.0, 1.0), (nan, 1.0, 0.0), (0.0, 1.0, nan)])
def test_a_line_up_the_picture_or_of_no_numbers_is_none(line):
    assert pointing_down(line) is None
