"""Print size: quiet unless the shape is the format's, exact about pixels, and marks borders between live area and bleed."""

from dataclasses import replace

import numpy as np
import pytest

from board.check_contract import MARK_KINDS, Findings, PageUnderCheck, PanelUnderCheck
from board.not_measured import NotMeasured
from board.page_checks.print_size import check
from board.page_format import FORMATS

A4 = FORMATS["a4"]


def page_of(width_mm, height_mm, dpi, boxes_mm=(), *, origin_mm=0.0, stage="final", spread=False, framed=True, tolerances=None,
            form=A4, bound_at=None):
    """A blank page of that size; `boxes_mm` are left, top, right, bottom from the trim, `origin_mm` the trim in the picture."""
    gray = np.full((round(height_mm / 25.4 * dpi), round(width_mm / 25.4 * dpi)), 255, np.uint8)
    panels = []
    for k, box in enumerate(boxes_mm, 1):
        left, right = ((x + origin_mm) / width_mm for x in (box[0], box[2]))
        top, bottom = ((y + origin_mm) / height_mm for y in (box[1], box[3]))
        panels.append(PanelUnderCheck(10 + k, k, ((left, top), (right, top), (right, bottom), (left, bottom)), framed))
    return PageUnderCheck(gray, stage, form, panels=tuple(panels), tolerances=tolerances or {}, is_spread=spread, bound_at=bound_at)


def found_in(page):
    result = check(page)
    assert isinstance(result, Findings)
    return result.found


def test_enough_pixels_and_borders_in_the_live_area_are_passed_in_silence():
    assert found_in(page_of(210, 297, 300, [(8, 8, 202, 289)])) == ()


def test_too_few_pixels_are_found_with_their_number():
    (finding,) = found_in(page_of(210, 297, 200))
    assert (finding.finding, finding.panel, finding.unit, finding.expected) == ("resolution-low", None, "dpi", 300.0)
    assert abs(finding.measured - 200) < 0.3 and "600 dpi" in finding.text and "ask" in finding.text


def test_the_boards_own_least_resolution_counts():
    assert found_in(page_of(210, 297, 200, tolerances={"least_dpi": 150.0})) == ()
    assert len(found_in(page_of(210, 297, 300, tolerances={"least_dpi": 600.0}))) == 1


def test_the_assumed_size_is_said():
    (cut,) = found_in(page_of(210, 297, 200))
    (bled,) = found_in(page_of(216, 303, 200))
    assert "210 × 297 mm (trim size" in cut.text and "216 × 303 mm (trim size and bleed" in bled.text


def test_a_border_between_trim_and_live_area_is_found_with_its_distance():
    (finding,) = found_in(page_of(216, 303, 300, [(4, 20, 150, 200)], origin_mm=3))
    assert (finding.finding, finding.panel, finding.unit, finding.expected) == ("near-trim", 11, "mm", 8.0)
    assert abs(finding.measured - 4) < 0.1 and "left" in finding.text and "top" not in finding.text


def test_one_finding_names_all_sides_of_a_panel():
    (finding,) = found_in(page_of(216, 303, 300, [(4, 5, 150, 200)], origin_mm=3))
    assert "The left and top borders of this panel stand too near; the nearest, the left one, stands 4.0 mm" in finding.text
    assert len(finding.geometry["marks"]) == 4


@pytest.mark.parametrize("reach_mm", [-3.0, -2.8])
def test_a_border_that_bleeds_off_is_passed(reach_mm):
    assert found_in(page_of(216, 303, 300, [(reach_mm, reach_mm, 150, 200)], origin_mm=3)) == ()


def test_a_border_that_stops_short_of_the_bleed_is_found():
    (finding,) = found_in(page_of(216, 303, 300, [(-1, 20, 150, 200)], origin_mm=3))
    assert abs(finding.measured + 1) < 0.1 and "past the trim" in finding.text


def inked(page):
    """Strokes across the picture, which run to all its edges."""
    page.gray[::97], page.gray[:, ::97] = 40, 40
    page.gray[1::97], page.gray[:, 1::97] = 40, 40
    page.gray[-40:, ::50], page.gray[::50, -40:] = 40, 40
    return page


def test_what_runs_off_a_picture_that_ends_at_the_trim_needs_bleed():
    page = inked(page_of(182, 257, 300, [(0, 0, 182, 100), (10, 110, 172, 247)], form=FORMATS["jis-b5"]))
    (finding,) = found_in(page)
    assert (finding.finding, finding.panel, finding.measured, finding.expected, finding.unit) == ("no-bleed", None, 0.0, 3.0, "mm")
    assert "panel 1 runs off the page at its left, top and right" in finding.text
    assert "188 × 263 mm, 2221 × 3107 px" in finding.text and "your own printer's sheet" in finding.text
    assert found_in(inked(page_of(188, 263, 300, [(-3, -3, 185, 100)], origin_mm=3, form=FORMATS["jis-b5"]))) == ()


B5 = FORMATS["jis-b5"]


@pytest.mark.parametrize(("bound_at", "origin_mm", "box"), [("left", 0, (0, 10, 185, 260)), ("right", 3, (-3, 10, 182, 260))])
def test_a_picture_with_bleed_at_all_sides_but_the_bound_one_is_taken_so(bound_at, origin_mm, box):
    page = inked(page_of(185, 263, 300, form=B5, bound_at=bound_at))
    across, down = ([(value + origin_mm) / 185 for value in box[::2]], [(value + 3) / 263 for value in box[1::2]])
    corners = ((across[0], down[0]), (across[1], down[0]), (across[1], down[1]), (across[0], down[1]))
    result = check(replace(page, panels=(PanelUnderCheck(1, 1, corners),)))
    assert result.found == ()
    assert result.numbers["taken_as"] == "185 × 263 mm (trim size and bleed, none where it is bound, by its shape)"
    assert abs(result.numbers["dpi"] - 300) < 0.2


def test_borders_are_told_from_the_trim_where_one_side_has_no_bleed():
    page = page_of(185, 263, 300, form=B5, bound_at="left")
    box = (5 / 185, 20 / 263, (182 - 4) / 185, 200 / 263)  # 5 mm from the bound side, 4 mm from the trim on the right
    corners = ((box[0], box[1]), (box[2], box[1]), (box[2], box[3]), (box[0], box[3]))
    (finding,) = check(replace(page, panels=(PanelUnderCheck(1, 1, corners),))).found
    assert "left and right borders" in finding.text and abs(finding.measured - 4) < 0.1


def test_paper_at_the_edge_of_an_open_panel_runs_off_nowhere():
    assert found_in(page_of(182, 257, 300, [(0, 0, 182, 257)], form=FORMATS["jis-b5"], framed=False)) == ()


def test_where_the_shape_does_not_tell_or_the_board_has_no_bleed_nothing_is_asked_for():
    none = replace(FORMATS["jis-b5"], bleed_mm=0.0)
    assert found_in(inked(page_of(182, 257, 300, [(0, 0, 182, 100)], form=none))) == ()


def test_the_boards_own_allowance_moves_the_limit():
    page = [(6, 20, 150, 200)]
    assert len(found_in(page_of(210, 297, 300, page))) == 1
    assert found_in(page_of(210, 297, 300, page, tolerances={"near_trim_mm": 3.0})) == ()


def test_open_panels_have_no_border_to_mark():
    assert found_in(page_of(210, 297, 300, [(4, 20, 150, 200)], framed=False)) == ()


def test_the_fold_of_a_spread_is_no_trim():
    assert found_in(page_of(420, 297, 300, [(8, 8, 207, 289), (213, 8, 412, 289)], spread=True)) == ()


def test_marks_are_of_known_kinds_and_touch_the_border():
    (finding,) = found_in(page_of(210, 297, 300, [(4, 20, 150, 200)]))
    assert {mark["kind"] for mark in finding.geometry["marks"]} == {"edge", "limit"} <= set(MARK_KINDS)
    edge = next(mark for mark in finding.geometry["marks"] if mark["kind"] == "edge")
    assert all(abs(x - 4 / 210) < 1e-9 for x, _ in edge["points"])


@pytest.mark.parametrize("stage", ["thumbnail", "pencil"])
def test_earlier_stages_are_not_measured(stage):
    assert isinstance(check(page_of(210, 297, 100, stage=stage)), NotMeasured)


def test_a_picture_of_another_shape_is_not_measured():
    result = check(page_of(200, 200, 100))
    assert isinstance(result, NotMeasured) and "shape" in result.reason
