"""The panels check: numbers in page coordinates that later checks read, and doubt only where there is some."""

import json

import cv2
import numpy as np

from board.check_contract import MARK_KINDS, Findings, PageUnderCheck
from board.not_measured import NotMeasured
from board.page_checks.panels import check
from board.page_format import FORMATS


def page_with(*boxes, size=(700, 1000), reading="ltr"):
    """A white page with toned panels; boxes are left, top, right, bottom in px."""
    gray = np.full((size[1], size[0]), 255, np.uint8)
    for k, (left, top, right, bottom) in enumerate(boxes):
        cv2.rectangle(gray, (left, top), (right - 1, bottom - 1), 90 + 20 * k, -1)
    return PageUnderCheck(gray, "pencil", FORMATS["a4"], reading=reading)


GRID = ((40, 40, 340, 480), (360, 40, 660, 480), (40, 510, 660, 960))


def test_panels_come_in_page_coordinates_and_reading_order():
    result = check(page_with(*GRID))
    assert isinstance(result, Findings) and result.found == ()
    panels = result.numbers["panels"]
    assert [panel["framed"] for panel in panels] == [True, True, True] and result.numbers["order_doubtful"] is False
    for panel, (left, top, right, bottom) in zip(panels, GRID, strict=True):
        xs, ys = zip(*panel["polygon"], strict=True)
        assert np.allclose([min(xs), min(ys), max(xs), max(ys)], [left / 700, top / 1000, right / 700, bottom / 1000], atol=0.002)


def test_right_to_left_pages_start_at_the_right():
    first = check(page_with(*GRID, reading="rtl")).numbers["panels"][0]
    assert min(x for x, _ in first["polygon"]) > 0.5


def test_a_pinwheel_is_reported_once_for_the_page_with_every_panel_numbered():
    page = page_with((40, 40, 420, 300), (440, 40, 660, 600), (280, 620, 660, 960), (40, 320, 260, 960), (280, 320, 420, 600))
    (finding,) = check(page).found
    assert (finding.finding, finding.panel) == ("order-doubtful", None) and 0 < finding.confidence < 1
    assert [mark["label"] for mark in finding.geometry["marks"]] == ["1", "2", "3", "4", "5"]
    assert {mark["kind"] for mark in finding.geometry["marks"]} <= set(MARK_KINDS)


def test_one_panel_that_fills_most_of_a_strip_is_told():
    (finding,) = check(page_with((20, 20, 380, 1980), size=(400, 2000))).found
    assert (finding.finding, finding.panel, finding.unit) == ("one-panel", None, "% of the picture")
    assert finding.measured > finding.expected and "outline them by hand" in finding.text


def test_one_panel_on_a_page_and_several_on_a_strip_are_not():
    assert check(page_with((20, 20, 680, 980))).found == ()
    assert check(page_with((20, 20, 380, 900), (20, 1000, 380, 1980), size=(400, 2000))).found == ()


def test_a_blank_page_is_not_measured():
    result = check(page_with())
    assert isinstance(result, NotMeasured) and "No panel" in result.reason


def test_numbers_are_plain_json():
    numbers = check(page_with(*GRID)).numbers
    assert json.loads(json.dumps(numbers)) == numbers
