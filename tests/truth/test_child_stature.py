"""Children: CDC growth charts (2000), stature-for-age, medians at each year and half a month; heads by age from the US Navy
illustrator-draftsman training manual.
"""

import pytest

from board.proportion_presets import PRESETS, median_stature_m

BOYS_CM = [86.45, 95.27, 102.51, 109.18, 115.66, 122.03, 128.12, 133.73, 138.82, 143.73, 149.31, 156.41, 164.14, 170.14, 173.61,
           175.34, 176.19, 176.62]
GIRLS_CM = [84.98, 94.21, 101.03, 107.96, 115.00, 121.76, 127.83, 133.13, 138.21, 144.26, 151.49, 157.34, 160.48, 161.90, 162.57,
            162.92, 163.13, 163.26]


@pytest.mark.parametrize("years", range(2, 20))
def test_medians_are_those_of_the_charts(years):
    assert median_stature_m("boys", years) == pytest.approx(BOYS_CM[years - 2] / 100)
    assert median_stature_m("girls", years) == pytest.approx(GIRLS_CM[years - 2] / 100)


def test_between_two_years_the_median_lies_between_theirs():
    assert median_stature_m("girls", 9.25) == pytest.approx((0.75 * 133.13 + 0.25 * 138.21) / 100)


@pytest.mark.parametrize("years", [1.9, 19.1, -1, float("nan")])
def test_outside_the_charts_there_is_no_median(years):
    with pytest.raises(ValueError, match="from 2 to 19"):
        median_stature_m("boys", years)


@pytest.mark.parametrize(("years", "share"), [(2, 0.49), (3, 0.54)])
def test_a_boy_has_his_share_of_the_median_at_19(years, share):
    assert median_stature_m("boys", years) / median_stature_m("boys", 19) == pytest.approx(share, abs=5e-3)


def test_girls_are_taller_at_12_and_boys_at_14():
    assert median_stature_m("girls", 12) > median_stature_m("boys", 12)
    assert median_stature_m("boys", 14) > median_stature_m("girls", 14)


@pytest.mark.parametrize(("preset", "heads"), [("child-1", 4.5), ("child-8", 6.25), ("child-12", 7)])
def test_children_have_fewer_heads_the_younger_they_are(preset, heads):
    assert PRESETS[preset].heads == heads


def test_by_both_tables_a_head_grows_little_from_8_to_19():
    """Stature over heads is the head itself: from 8 to 19 years it grows by under a quarter, the stature by over a third."""
    at_8, grown = median_stature_m("boys", 8), median_stature_m("boys", 19)
    assert grown / at_8 > 1.33
    assert (grown / PRESETS["ordinary"].heads) / (at_8 / PRESETS["child-8"].heads) < 1.25
