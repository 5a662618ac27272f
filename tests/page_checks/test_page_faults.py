"""Faults of a whole page, put into the drawn comic by a known amount, are found; the clean twin raises nothing of the kind."""

from dataclasses import replace

import numpy as np
import pytest

from board.check_contract import Findings, PageUnderCheck
from board.check_run import run_checks
from board.page_format import FORMATS
from fixtures.demo_plans import plan_of
from fixtures.faults import border_near_trim, fewer_dots, pinwheel_order
from fixtures.page_drawing import draw_page

CLEAN = plan_of(2, "final")
SMALL = replace(CLEAN, width_px=800)  # too few dots to be clean, and enough to lie too near the trim or be read in two ways


def kinds(picture) -> list[tuple[str, float]]:
    page = PageUnderCheck(np.asarray(picture.convert("L")), "final", FORMATS["a5"])
    _, runs = run_checks(page)
    found = [finding for run in runs if isinstance(run.result, Findings) for finding in run.result.found]
    return [(finding.finding, finding.measured) for finding in found if finding.finding not in ("stray-edge", "eye-level-split")]


@pytest.fixture(scope="module")
def clean():
    return draw_page(CLEAN)[0]


def test_the_clean_page_raises_nothing(clean):
    assert kinds(clean) == []


@pytest.mark.parametrize("dpi", [150.0, 220.0])
def test_too_few_dots_are_counted(clean, dpi):
    ((kind, measured),) = kinds(fewer_dots(clean, dpi, CLEAN.page_mm))
    assert kind == "resolution-low"
    assert measured == pytest.approx(dpi, rel=0.01)


def test_a_border_near_the_trim_is_measured_from_it():
    found = dict(kinds(draw_page(border_near_trim(SMALL, 1, 4.0))[0]))
    assert found["near-trim"] == pytest.approx(4.0, abs=0.5)


def test_a_pinwheel_of_panels_leaves_the_order_in_doubt():
    assert "order-doubtful" in dict(kinds(draw_page(pinwheel_order(SMALL))[0]))
