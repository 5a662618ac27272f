"""Panels against their stills: an edge that was drawn otherwise is told, and a drawing that slipped; what agrees is not."""

from dataclasses import replace

import cv2
import numpy as np
import pytest

from board.check_contract import MARK_KINDS, Findings, PageUnderCheck, PanelUnderCheck, StillUnderCheck
from board.exact_camera import ExactCamera
from board.not_measured import NotMeasured
from board.page_checks.still import check
from board.page_format import FORMATS
from tests.page_checks.test_perspective import draw_line, edges_of_box, turn
from tests.vision.test_still_registration import BOXES, CAMERA, HEIGHT, OTHER_BOXES, SIZE, WIDTH

MARGIN = 60
PAGE = WIDTH + 2 * MARGIN, HEIGHT + 2 * MARGIN
CORNERS = ((MARGIN, MARGIN), (MARGIN + WIDTH, MARGIN), (MARGIN + WIDTH, MARGIN + HEIGHT), (MARGIN, MARGIN + HEIGHT))
OUTLINE = tuple((x / PAGE[0], y / PAGE[1]) for x, y in CORNERS)
PLACED = np.array([[1.0, 0, MARGIN], [0, 1, MARGIN], [0, 0, 1]])
TURNED = (1, 1)  # the box, and which of its edges


def wire(boxes=BOXES, off_deg=0.0, shift=(0, 0)):
    """All edges of boxes, seen through; one of them turned."""
    gray = np.full((HEIGHT, WIDTH), 255, np.uint8)
    for number, box in enumerate(boxes):
        for k, edge in enumerate(edges_of_box(*box)):
            ends = CAMERA.project(edge) + shift
            draw_line(gray, *(turn(ends, off_deg) if off_deg and (number, k) == TURNED else ends))
    return gray


def page_of(panel, still=None, placed=PLACED, **options):
    gray = cv2.copyMakeBorder(panel, *4 * [MARGIN], cv2.BORDER_CONSTANT, value=255)
    cv2.rectangle(gray, (MARGIN, MARGIN), (MARGIN + WIDTH - 1, MARGIN + HEIGHT - 1), 0, 4)
    one = StillUnderCheck("the yard", wire() if still is None else still, placed, {"eye_level": [[0.1, 0.4], [0.9, 0.4]]})
    return PageUnderCheck(gray, "final", FORMATS["a5"], panels=(replace(PanelUnderCheck(4, 1, OUTLINE, still=one), **options),))


def found_on(page):
    result = check(page)
    assert isinstance(result, Findings)
    return result


def test_a_drawing_that_follows_its_still_raises_nothing():
    result = found_on(page_of(wire()))
    assert (result.found, result.not_measured) == ((), {})
    assert result.numbers["panels"][0]["drawn_share"] > 0.9


@pytest.mark.parametrize("off_deg", [-6.0, 8.0])
def test_an_edge_that_runs_otherwise_is_told_by_how_much_and_where_it_would_run(off_deg):
    (finding,) = found_on(page_of(wire(off_deg=off_deg))).found
    assert (finding.finding, finding.panel, finding.unit) == ("still-mismatch", 4, "°")
    assert finding.measured == pytest.approx(abs(off_deg), abs=0.8)
    assert "the yard" in finding.text and finding.confidence > 0.9
    marks = finding.geometry["marks"]
    assert {mark["kind"] for mark in marks} <= set(MARK_KINDS)
    true = CAMERA.project(edges_of_box(*BOXES[TURNED[0]])[TURNED[1]]) + MARGIN
    drawn = next(np.array(mark["points"]) * PAGE for mark in marks if mark["kind"] == "true-edge")
    assert np.abs(drawn.mean(0) - true.mean(0)).max() < 6


def test_a_drawing_that_slipped_as_a_whole_is_told_once():
    (finding,) = found_on(page_of(wire(shift=(30, -12)))).found
    assert finding.unit == "% of panel width"
    assert finding.measured == pytest.approx(100 * np.hypot(30, 12) / WIDTH, abs=0.8)
    assert "% of the panel's width to the right and up; up to" in finding.text  # no size and no turn, which are nought
    assert finding.text.endswith("else move the drawing to the left and down by as much.")
    for shown in finding.geometry["marks"]:
        assert all(OUTLINE[0][0] - 0.05 < x < OUTLINE[2][0] + 0.06 for x, _ in shown["points"]), shown


def test_where_little_of_the_still_is_drawn_its_eye_level_is_held_against_the_drawings_own():
    page = page_of(wire(OTHER_BOXES))
    assert "Too little" in found_on(page).not_measured[4].reason
    own = {"panel": 4, "eye_level": [[0.1, 0.5], [0.9, 0.5]], "eye_level_interval_px": 3.0}
    (finding,) = found_on(replace(page, earlier={"perspective": {"panels": [own]}})).found
    assert (finding.unit, finding.measured) == ("panel height", pytest.approx(0.1 * PAGE[1] / HEIGHT, abs=0.005))
    assert "below" in finding.text


def test_without_a_camera_without_a_still_and_left_alone_it_is_silent():
    page = page_of(wire(off_deg=8.0))
    (panel,) = page.panels
    unknown = replace(panel, still=replace(panel.still, numbers={}))
    assert "not known" in found_on(replace(page, panels=(unknown,))).not_measured[4].reason
    assert "left alone" in found_on(replace(page, panels=(replace(panel, left_alone=True),))).not_measured[4].reason
    assert isinstance(check(replace(page, panels=(replace(panel, still=None),))), NotMeasured)


def test_an_exact_camera_tells_what_the_check_asks_for():
    assert {"eye_level", "vanishing_points"} <= set(ExactCamera(560.0, pitch_deg=-5).numbers(*SIZE))
