"""Seeded faults: head counts off by 0.75 or more are found, and hardly anything else is.

Crown and chin are off by 1.5 % of the head, as marks are that were snapped to a line; the soles by 1.5 % of the figure. Clicks
off by 1.5 % of the whole figure tell a head within 15 %: there the check has to keep quiet.
"""

import numpy as np
import pytest

from board.check_contract import CharacterUnderCheck, FigureUnderCheck, PageUnderCheck, PanelUnderCheck
from board.page_checks.proportions import check
from board.page_format import FORMATS

SIZE = np.array([1000.0, 1500.0])
BLANK = np.full((1500, 1000), 255, np.uint8)
PANEL = PanelUnderCheck(7, 1, ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)))
CLICK = 0.015
FIGURES = 600


def findings(seed: int, *, is_faulty: bool, of_the_head: bool):
    """One standing figure of 4 to 8.5 heads, level camera; drawn 0.75 to 2 heads off if faulty."""
    rng = np.random.default_rng(seed)
    sheet, tall_px = rng.uniform(4, 8.5), rng.uniform(300, 900)
    heads = sheet + is_faulty * rng.choice([-1, 1]) * rng.uniform(0.75, 2.0)
    exact = {"crown": 1.0, "chin": 1 - 1 / heads, "sole": 0.0}
    marks, sigma = {}, {}
    for name, level in exact.items():
        sigma[name] = CLICK / heads if of_the_head and name != "sole" else CLICK
        point = np.array([500, 1200 - tall_px * level]) + rng.normal(0, sigma[name] * tall_px, 2)
        marks[name] = tuple(point / SIZE)
    wenna = CharacterUnderCheck(1, "Wenna", head_count=sheet)
    figure = FigureUnderCheck(1, 7, wenna, marks, mark_sigma=sigma if of_the_head else {})
    return check(PageUnderCheck(BLANK, "final", FORMATS["a4"], panels=(PANEL,), figures=(figure,))).found


def tally(*, faulty_every: int, of_the_head: bool):
    """Recall, precision and the number of wrong notes."""
    rows = [(seed % faulty_every == 0, bool(findings(seed, is_faulty=seed % faulty_every == 0, of_the_head=of_the_head)))
            for seed in range(FIGURES)]
    right, wrong = sum(faulty and found for faulty, found in rows), sum(found and not faulty for faulty, found in rows)
    return right / sum(faulty for faulty, _ in rows), right / max(right + wrong, 1), wrong


@pytest.mark.parametrize("faulty_every", [2, 4])
def test_head_counts_off_by_three_quarters_are_found_and_hardly_anything_else(faulty_every):
    recall, precision, _ = tally(faulty_every=faulty_every, of_the_head=True)
    assert recall >= 0.9
    assert precision >= 0.98


def test_clicks_too_loose_to_tell_a_head_raise_nothing_wrong():
    _, precision, _ = tally(faulty_every=2, of_the_head=False)
    assert precision >= 0.98
