"""What a page should have and a picture of it has not is told in one note, with what lies in its place."""

from dataclasses import replace

import numpy as np

from board.check_contract import AwaitedPanel, Findings, PageUnderCheck, PanelUnderCheck
from board.not_measured import NotMeasured
from board.page_checks.panels_there import check
from board.page_format import FORMATS

UPPER, LOWER = (((0.1, top), (0.9, top), (0.9, top + 0.4), (0.1, top + 0.4)) for top in (0.05, 0.55))
RIGHT_HALF = ((0.52, 0.55), (0.9, 0.55), (0.9, 0.95), (0.52, 0.95))
PAGE = PageUnderCheck(np.full((60, 40), 255, np.uint8), "pencil", FORMATS["a4"],
                      panels=(PanelUnderCheck(7, 1, UPPER), PanelUnderCheck(8, 2, LOWER)))


def finding_of(*awaited):
    result = check(replace(PAGE, awaited=awaited))
    assert isinstance(result, Findings) and len(result.found) == 1
    return result.found[0]


def test_a_page_with_all_that_it_should_have_is_passed_in_silence():
    assert check(PAGE) == Findings(numbers={"there": 2, "awaited": []})


def test_panels_that_were_written_and_not_drawn_are_counted_and_named():
    found = finding_of(AwaitedPanel(9, 3), AwaitedPanel(10, 4))
    assert (found.finding, found.panel, found.measured, found.expected, found.unit) == ("panel-missing", None, 2, 4, "panels")
    assert "Panels 3 and 4 are planned and not drawn" in found.text and found.geometry["marks"] == []


def test_of_one_that_was_drawn_it_says_where_and_what_lies_there_now():
    found = finding_of(AwaitedPanel(9, 3, RIGHT_HALF, 2))
    assert "Panel 3 of revision 2 is not found: panel 2 lies where it was." in found.text
    assert found.geometry["marks"] == [{"kind": "outline", "points": [list(corner) for corner in RIGHT_HALF], "label": "3, before"}]


def test_what_lies_beside_its_place_is_not_named():
    beside = ((0.1, 0.4), (0.9, 0.4), (0.9, 0.6), (0.1, 0.6))
    assert "Panel 3 of revision 2 is not found." in finding_of(AwaitedPanel(9, 3, beside, 2)).text


def test_without_any_panel_nothing_is_counted():
    assert isinstance(check(replace(PAGE, panels=(), awaited=(AwaitedPanel(9, 1),))), NotMeasured)
