"""What is a gutter and what a line of the drawing, where borders are drawn loosely."""

from dataclasses import replace

import cv2
import numpy as np
import pytest

from board.vision.gutter_evidence import LEAST_ODDS, SLANT_OF_SIDE, bare_share
from board.vision.gutter_signs import GutterSigns, log_odds
from board.vision.gutter_strip import count_crossed_ends, measure_strip
from board.vision.page_ground import find_ground
from board.vision.page_piece import PieceScale
from board.vision.panel_frames import find_panels

BOXES = ((60, 60, 440, 560), (460, 60, 840, 560), (60, 580, 440, 1140), (460, 580, 840, 1140))


def loose_page(past_px, hatched=False, gutter=20):
    """Four panels whose border strokes run on past the corners; all borders are joined where that is more than the gutter."""
    gray = np.full((1200, 900), 250, np.uint8)
    for left, top, right, bottom in BOXES:
        left, top = (edge + (20 - gutter if edge > 60 else 0) for edge in (left, top))
        if hatched:
            for x in range(left - 600, right, 14):
                clipped, a, b = cv2.clipLine((left, top, right - left, bottom - top), (x, bottom), (x + 600, top))
                if clipped:
                    cv2.line(gray, a, b, 90, 1)
        cv2.circle(gray, ((left + right) // 2, (top + bottom) // 2), 70, 60, 3)
        for a, b in (((left - past_px, top), (right + past_px, top)), ((left - past_px, bottom), (right + past_px, bottom)),
                     ((left, top - past_px), (left, bottom + past_px)), ((right, top - past_px), (right, bottom + past_px))):
            cv2.line(gray, a, b, 60, 3)
    return gray


@pytest.mark.parametrize(("past_px", "gutter"), [(0, 20), (12, 20), (30, 20), (14, 10)])
def test_a_gutter_is_found_whether_borders_cross_it_or_not(past_px, gutter):
    panels = find_panels(loose_page(past_px, gutter=gutter)).panels
    assert len(panels) == 4
    for panel, (left, top, right, bottom) in zip(panels, BOXES, strict=True):
        assert np.abs(panel.max(axis=0) - (right, bottom)).max() <= 6
        assert np.abs(panel.min(axis=0) - (left, top)).max() <= 16


@pytest.mark.parametrize("past_px", [0, 12])
def test_hatching_is_no_gutter(past_px):
    assert len(find_panels(loose_page(past_px, hatched=True)).panels) == 4


def test_what_a_lettered_balloon_hides_of_a_gutter_speaks_neither_for_it_nor_against_it():
    gray = loose_page(30)
    cv2.ellipse(gray, (450, 300), (150, 70), 0, 0, 360, 250, -1)
    cv2.ellipse(gray, (450, 300), (150, 70), 0, 0, 360, 60, 3)
    empty = gray.copy()
    cv2.putText(gray, "MIND THE SILL", (345, 308), cv2.FONT_HERSHEY_SIMPLEX, 0.9, 40, 2)
    ends, across = (np.array([450.0, 65.0]), np.array([450.0, 555.0])), np.array([1.0, 0.0])
    seen, without_words = (measure_strip(find_ground(page), ends, across, 450.0, 1200, 3.0).share for page in (gray, empty))
    assert seen > 0.97
    assert without_words < 0.8


def test_what_is_drawn_across_a_strip_makes_it_less_bare():
    gray = loose_page(0)
    ends, across = (np.array([450.0, 65.0]), np.array([450.0, 555.0])), np.array([1.0, 0.0])
    clear = measure_strip(find_ground(gray), ends, across, 450.0, 1200, 3.0).bare_share
    for y in range(100, 540, 20):
        cv2.line(gray, (430, y), (470, y + 6), 60, 8)
    crossed = measure_strip(find_ground(gray), ends, across, 450.0, 1200, 3.0).bare_share
    assert clear > 0.98
    assert 0.3 < crossed < 0.75


def test_paper_in_a_balloon_is_not_bare_and_what_it_hides_of_a_gutter_counts_not():
    gray = loose_page(0)
    cv2.ellipse(gray, (450, 300), (150, 70), 0, 0, 360, 250, -1)
    cv2.ellipse(gray, (450, 300), (150, 70), 0, 0, 360, 60, 3)
    cv2.putText(gray, "MIND THE SILL", (345, 308), cv2.FONT_HERSHEY_SIMPLEX, 0.9, 40, 2)
    page, scale = find_ground(gray), PieceScale(1200.0, 1200.0 * 900)
    across_it = np.array([340.0, 340.0]), np.array([560.0, 340.0])
    along_the_gutter = np.array([444.0, 65.0]), np.array([444.0, 555.0])
    assert bare_share(across_it, np.array([0.0, -1.0]), page, scale) == 0
    assert bare_share(along_the_gutter, np.array([1.0, 0.0]), page, scale) > 0.95


@pytest.mark.parametrize(("side_px", "width_px", "panels"), [(90, 3, 4), (220, 3, 5), (220, 1, 4)])
def test_a_frame_in_a_panel_drawn_twice_over_is_a_window_if_small_or_thinner_than_borders(side_px, width_px, panels):
    gray = loose_page(12)
    for inset in (0, 9):
        cv2.rectangle(gray, (520 + inset, 640 + inset), (520 + side_px - inset, 640 + side_px - inset), 60, width_px)
    assert len(find_panels(gray).panels) == panels


@pytest.mark.parametrize(("gutter", "apart"), [(8, 10), (10, 8), (20, 8)])
def test_a_wider_gap_between_two_strokes_of_a_tone_is_no_slanted_gutter(gutter, apart):
    gray = loose_page(0, gutter=gutter)
    left, top, right, bottom = (edge + (20 - gutter) * (k < 2) for k, edge in enumerate(BOXES[3]))
    for k, x in enumerate(range(left - 600, right, apart)):
        clipped, a, b = cv2.clipLine((left, top, right - left, bottom - top), (x, bottom), (x + 600, top))
        if clipped and k != 600 // apart:
            cv2.line(gray, a, b, 90, 2)
    assert len(find_panels(gray).panels) == 4


def test_a_bridged_gutter_beside_boards_of_its_width_is_one_where_it_goes_on_as_a_gutter():
    gray = loose_page(0)
    for y in (582, 602, 622):  # boards as wide as the gutter above them
        cv2.line(gray, (60, y), (440, y), 60, 3)
    cv2.line(gray, (60, 540), (60, 600), 60, 3)
    cv2.line(gray, (440, 540), (440, 600), 60, 3)
    assert len(find_panels(gray).panels) == 4


@pytest.mark.parametrize(("apart", "lean", "past_px"), [(20, 10, 0), (34, 0, 10)])
def test_boards_that_lean_a_little_or_are_wider_apart_than_the_page_s_gutters_part_no_panel(apart, lean, past_px):
    gray = loose_page(0)
    cv2.line(gray, (460 - past_px, 980), (840 + past_px, 980 + lean), 60, 3)
    cv2.line(gray, (460, 980 + apart), (840, 980 + apart + lean), 60, 3)
    assert len(find_panels(gray).panels) == 4


@pytest.mark.parametrize(("past_px", "panels"), [(0, 4), (12, 5)])
def test_beams_as_far_apart_as_the_page_s_gutters_part_a_panel_only_if_they_run_on_past_its_border(past_px, panels):
    gray = loose_page(0)
    for y in (840, 860):
        cv2.line(gray, (460 - past_px, y), (840 + past_px, y), 60, 3)
    assert len(find_panels(gray).panels) == panels


def test_where_no_gutter_is_open_the_first_that_is_found_tells_what_others_are_like():
    gray = np.full((1200, 900), 250, np.uint8)
    cv2.rectangle(gray, (60, 60), (840, 1140), 60, 3)
    for y in (560, 572):  # run on past the frame
        cv2.line(gray, (45, y), (855, y), 60, 3)
    for top, bottom, middle in ((60, 560, 400), (572, 1140, 500)):  # end at the frame
        for x in (middle, middle + 12):
            cv2.line(gray, (x, top), (x, bottom), 60, 3)
        cv2.circle(gray, (200, top + 250), 70, 60, 3)
    assert len(find_panels(gray).panels) == 4


# A gutter that strokes cross, between borders as straight and thick as the page's.
CROSSED = GutterSigns(
    support=0.95, strip=0.9, ground=0.0, bare=0.9, lesser_stroke=0.95, greater_stroke=1.0, wavier_stroke=1.2,
    straighter_stroke=0.9, wavy_flank=1.5, thinner_stroke=0.0, is_thin=0.0, paler_stroke=0.0, off_width=0.5, is_off=0.0,
    has_others=1.0, repeats=0.0, crossed_ends=2.0,
    leads_out=0.0, leans=0.0, slants=0.0,
)


@pytest.mark.parametrize(
    "otherwise",
    [
        {"wavier_stroke": 3.0, "straighter_stroke": 2.5, "wavy_flank": 4.0},
        {"lesser_stroke": 0.5, "greater_stroke": 0.6, "support": 0.6, "strip": 0.6},
        {"bare": 0.4, "crossed_ends": 0.0},
        {"thinner_stroke": -0.35, "is_thin": 1.0},
        {"off_width": 3.0, "is_off": 1.0, "repeats": 1.0},
        {"leans": 1.0, "repeats": 1.0, "crossed_ends": 0.0},
        {"shut_off": 1.0, "crossed_ends": 0.0},
    ],
)
def test_borders_that_are_wavier_shorter_thinner_or_otherwise_apart_than_the_page_s_are_none(otherwise):
    assert log_odds(CROSSED) > 1
    assert log_odds(replace(CROSSED, **otherwise)) < LEAST_ODDS


def test_where_nothing_is_drawn_along_the_panels_their_strokes_tell_nothing():
    gray = np.full((1200, 900), 250, np.uint8)
    for left, top, right, bottom in BOXES:
        gray[top:bottom, left:right] = 140
    assert len(find_panels(gray).panels) == 4


def test_a_closed_gutter_may_be_narrower_than_others_where_its_borders_run_on_past_the_panels():
    gray = loose_page(0, gutter=8)
    cv2.line(gray, (462, 980), (850, 980), 60, 3)
    cv2.line(gray, (472, 1000), (840, 1000), 60, 3)
    assert len(find_panels(gray).panels) == 5


@pytest.mark.parametrize(("past_px", "count"), [(0, 0), (5, 4)])
def test_what_sticks_out_of_a_side_further_off_tells_nothing_of_the_ends_of_a_gutter(past_px, count):
    mask = np.zeros((400, 400), bool)
    mask[50:350, 50:350] = True
    for left in (188, 210):
        mask[50 - past_px : 350 + past_px, left : left + 3] = True
    mask[20:380, 124:138] = True  # an upright of the drawing, run on past the border
    assert count_crossed_ends(mask, np.array([1.0, 0.0]), (190.0, 210.0), 2.8, SLANT_OF_SIDE) == count
