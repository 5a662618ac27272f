"""Same-as panels: a background that slipped by a known amount is told so; one that stands is silent."""

import numpy as np
import pytest

from board.check_contract import Findings, PageUnderCheck, PanelUnderCheck, SameAsUnderCheck
from board.not_measured import NotMeasured
from board.page_checks.same_as import check
from board.page_format import FORMATS
from board.vision.shared_drawing import find_shared_drawing
from tests.bench.same_as_pairs import cut_panel, draw_pair

SEED = 41


def result_of(earlier, later, outline, is_mirrored=False, **panel):
    drawn = cut_panel(earlier, outline)
    model = SameAsUnderCheck(7, 3, np.ascontiguousarray(drawn[:, ::-1]) if is_mirrored else drawn, 1)
    under = PanelUnderCheck(9, 2, tuple((x, y) for x, y in outline), same_as=model, **panel)
    return check(PageUnderCheck(later, "final", FORMATS["a5"], panels=(under,)))


@pytest.fixture(scope="module")
def clean():
    return draw_pair(SEED, "final")


def test_a_background_that_stands_raises_nothing_whoever_stands_before_it(clean):
    result = result_of(*clean)
    assert isinstance(result, Findings)
    assert (result.found, dict(result.not_measured)) == ((), {})
    assert (result.numbers["panels"][0]["same_as"], result.numbers["panels"][0]["is_mirrored"]) == (7, False)


SLIPS = [("shift", 1.5, "% of panel width"), ("scale", 3.0, "%"), ("turn", 1.5, "degrees")]


@pytest.mark.parametrize(("kind", "amount", "unit"), SLIPS)
def test_a_slip_is_told_by_how_much(kind, amount, unit):
    (finding,) = result_of(*draw_pair(SEED, "final", kind, amount)).found
    assert (finding.finding, finding.panel, finding.unit) == ("same-as-drift", 9, unit)
    assert abs(finding.measured) == pytest.approx(amount, abs=0.2)
    assert "panel 3 of page 1" in finding.text


def test_a_background_that_is_mirrored_is_laid_on_mirrored(clean):
    """As it is the two have too little in common, or slip by what chance makes of them."""
    stands = result_of(*clean, is_mirrored=True)
    assert (stands.found, dict(stands.not_measured), stands.numbers["panels"][0]["is_mirrored"]) == ((), {}, True)
    (finding,) = result_of(*draw_pair(SEED, "final", "shift", 1.5), is_mirrored=True).found
    assert finding.measured == pytest.approx(1.5, abs=0.2)
    assert "mirrored here, has slipped" in finding.text


def test_a_panel_left_alone_says_so(clean):
    result = result_of(*clean, left_alone=True)
    assert not result.found and 9 in result.not_measured


def test_without_a_declared_panel_nothing_is_measured(clean):
    page = PageUnderCheck(clean[1], "final", FORMATS["a5"], panels=(PanelUnderCheck(9, 1, ((0, 0), (1, 0), (1, 1))),))
    assert isinstance(check(page), NotMeasured)


@pytest.mark.parametrize("shape", [(300, 400), (300, 700)])
def test_panels_that_share_nothing_or_differ_in_shape_are_not_measured(clean, shape):
    drawn = cut_panel(clean[0], clean[2])
    assert isinstance(find_shared_drawing(drawn, np.full(shape, 255, np.uint8)), NotMeasured)


def test_only_gray_pictures_are_laid_over_each_other():
    with pytest.raises(ValueError, match="gray"):
        find_shared_drawing(np.zeros((40, 40, 3), np.uint8), np.zeros((40, 40), np.uint8))
