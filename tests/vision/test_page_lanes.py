"""Open panels take the cells between the bare lanes of a page; a panel that bleeds off reaches the edges."""

from dataclasses import replace

import cv2
import numpy as np
import pytest

from board.vision.bled_bands import fill_bands
from board.vision.bleeding_panels import bled_off
from board.vision.open_panels import find_open_panels
from board.vision.page_ground import find_ground
from board.vision.page_lanes import _apart, settle_open
from board.vision.page_piece import PieceScale
from board.vision.ruled_strokes import RuledStroke

HEIGHT, WIDTH = 1300, 900
CELLS = {"first": (60, 60, 440, 500), "second": (460, 60, 840, 500), "wide": (60, 522, 840, 1240)}
SCALE = PieceScale(float(HEIGHT), float(HEIGHT * WIDTH))
NOTHING_DRAWN = np.zeros((HEIGHT, WIDTH), bool)


def quad(left, top, right, bottom):
    return np.array([[left, top], [right, top], [right, bottom], [left, bottom]], float)


def page(sticking_out_px=0):
    """Two panels over a wide one, each full of strokes up to its limits, only the first with a frame."""
    gray = np.full((HEIGHT, WIDTH), 250, np.uint8)
    for left, top, right, bottom in CELLS.values():
        for x in range(left, right, 40):
            cv2.line(gray, (x, top), (x, bottom), 60, 3)
        cv2.line(gray, (right, top), (right, bottom), 60, 3)
        for y in (top, (top + bottom) // 2, bottom):
            cv2.line(gray, (left, y), (right, y), 60, 3)
    cv2.line(gray, (440, 500), (440, 500 + sticking_out_px), 60, 3)
    return find_ground(gray)


def boxes(polygons):
    found = [tuple(np.round(np.concatenate([one.min(axis=0), one.max(axis=0)])).astype(int).tolist()) for one in polygons]
    return sorted(found, key=lambda box: (round(box[1] / 50), box[0]))


def is_near(found, expected):
    return len(found) == len(expected) and np.abs(np.array(found) - np.array(list(expected))).max() <= 6


@pytest.mark.parametrize("sticking_out_px", [0, 21])
def test_an_open_panel_that_was_found_in_pieces_is_its_cell(sticking_out_px):
    pieces = [quad(*CELLS["first"]), quad(465, 70, 640, 480), quad(60, 540, 500, 1200), quad(520, 540, 830, 1230)]
    panels, framed = settle_open(pieces, [True, False, False, False], page(sticking_out_px), SCALE)
    assert is_near(boxes(panels), CELLS.values())
    assert framed == [True, False, False]


def test_one_open_panel_found_over_several_cells_is_as_many():
    pieces = [quad(*CELLS["first"]), quad(450, 50, 850, 1250)]
    panels, framed = settle_open(pieces, [True, False], page(), SCALE)
    assert is_near(boxes(panels), CELLS.values()) and framed.count(False) == 2


def test_frames_are_left_as_they_are_and_so_is_a_page_whose_lanes_run_through_one():
    slanted = [np.array([[60, 60], [440, 60], [400, 500], [60, 500]], float), quad(*CELLS["wide"])]
    assert settle_open(slanted, [True, True], page(), SCALE) == (slanted, [True, True])
    over_a_lane = [quad(60, 60, 840, 500), quad(60, 540, 500, 1200)]
    assert settle_open(over_a_lane, [True, False], page(), SCALE) == (over_a_lane, [True, False])


def framed_page():
    """A frame beside an open panel over a wide frame; the open one has a bare wall all its height, and its lower half is bare."""
    gray = np.full((HEIGHT, WIDTH), 250, np.uint8)
    for name in ("first", "wide"):
        left, top, right, bottom = CELLS[name]
        cv2.rectangle(gray, (left, top), (right, bottom), 60, 3)
        cv2.line(gray, (left, bottom), (right, top + 80), 60, 3)
    for x in (480, 520, 640, 660, 700, 820):
        cv2.line(gray, (x, 62), (x + 6, 300), 60, 3)
    for x in (460, 660):
        cv2.line(gray, (x, 200), (x + 176, 230), 60, 3)
    page = find_ground(gray)
    return replace(page, pen=RuledStroke(1.0, 0.3, 60.0, 3.0))


def test_a_bare_wall_parts_no_open_panel_among_frames_and_its_tier_tells_how_high_it_is():
    pieces = [quad(*CELLS["first"]), quad(460, 60, 650, 300), quad(660, 60, 840, 300), quad(*CELLS["wide"])]
    panels, framed = settle_open(pieces, [True, False, False, True], framed_page(), SCALE)
    (_, open_box, _), expected = boxes(panels), CELLS["second"]
    assert len(panels) == 3 and framed.count(False) == 1
    assert np.abs(np.array(open_box) - expected).max() <= 24


@pytest.mark.parametrize(("value", "count"), [(60, 4), (215, 3)])
def test_a_line_that_a_drawing_is_constructed_on_is_no_border_of_an_open_panel(value, count):
    with_lane = framed_page()
    gray = with_lane.gray.copy()
    gray[60:500, 709:729] = 250  # a bare lane as wide as the gutter, and a line along it
    cv2.line(gray, (729, 60), (729, 500), value, 3)
    with_lane = replace(find_ground(gray), pen=with_lane.pen)
    pieces = [quad(*CELLS["first"]), quad(460, 60, 840, 500), quad(*CELLS["wide"])]
    assert len(settle_open(pieces, [True, False, True], with_lane, SCALE)[0]) == count


def test_an_open_panel_that_is_its_cell_keeps_its_own_outline():
    own = quad(64, 526, 836, 1236)
    panels, _ = settle_open([quad(*CELLS["first"]), quad(*CELLS["second"]), own], [True, True, False], page(), SCALE)
    assert any(panel is own for panel in panels)


def test_strokes_that_run_on_past_its_corner_are_no_part_of_an_open_panel():
    wide = quad(40, 522, 860, 1240)
    panels, _ = settle_open([quad(*CELLS["first"]), quad(*CELLS["second"]), wide], [True, True, False], page(), SCALE)
    assert is_near(boxes(panels), CELLS.values())


def test_a_frame_alone_in_its_cell_that_does_not_fill_it_is_a_shape_in_an_open_panel():
    shape = quad(464, 64, 700, 420)
    found = [quad(*CELLS["first"]), shape, quad(80, 540, 500, 1200)]
    with_pen = replace(framed_page(), pen=RuledStroke(1.0, 0.3, 60.0, 3.0))
    panels, framed = settle_open(found, [True, True, False], with_pen, SCALE)
    assert not any(panel is shape for panel in panels) and framed.count(False) == 2


def test_it_is_none_where_a_slanted_frame_stands_in_the_cell_too():
    """Something crosses the gutter under it, so that the lanes do not part the two."""
    upper, lower = quad(60, 522, 840, 860), np.array([[60, 880], [440, 880], [400, 1240], [60, 1240]], float)
    found = [quad(*CELLS["first"]), quad(*CELLS["second"]), upper, lower, quad(520, 890, 800, 1230)]
    with_pen = replace(framed_page(), pen=RuledStroke(1.0, 0.3, 60.0, 3.0))
    panels, framed = settle_open(found, [True] * 4 + [False], with_pen, SCALE)
    assert any(panel is upper for panel in panels) and framed.count(False) == 1


def test_of_bare_ways_on_both_sides_of_a_border_one_is_a_lane():
    lanes = [(440, 460), (463, 480), (700, 716)]
    assert _apart(lanes, 21.0, SCALE) == [(440, 460), (700, 716)]
    assert _apart(lanes, 17.0, SCALE) == [(463, 480), (700, 716)]


def test_white_at_the_edge_belongs_to_a_panel_whose_border_runs_from_edge_to_edge():
    cut_short = np.array([[0, 0], [600, 0], [900, 500], [0, 500]], float)
    grown = bled_off(cut_short, [quad(60, 540, 840, 1240)], NOTHING_DRAWN, SCALE)
    assert boxes([grown]) == [(0, 0, 900, 500)]


@pytest.mark.parametrize(("drawn_to", "is_grown"), [(WIDTH, True), (WIDTH - 30, False)])
def test_where_all_is_white_behind_it_its_stroke_alone_runs_on_to_the_edge(drawn_to, is_grown):
    content = NOTHING_DRAWN.copy()
    content[497:500, 640:drawn_to] = True
    cut_short = np.array([[0, 0], [690, 0], [700, 500], [0, 500]], float)
    grown = bled_off(cut_short, [quad(60, 540, 840, 1240)], content, SCALE)
    assert boxes([grown]) == [(0, 0, 900, 500)] if is_grown else grown is cut_short


@pytest.mark.parametrize(
    ("polygon", "others"),
    [
        (quad(60, 60, 840, 500), []),  # a border that ends before the edges
        (np.array([[0, 480], [900, 480], [900, 500], [0, 500]], float), []),  # next to nothing of the room is its own
        (np.array([[0, 0], [600, 0], [900, 500], [0, 500]], float), [quad(760, 20, 880, 200)]),  # another stands there
    ],
)
def test_other_panels_end_where_they_were_found(polygon, others):
    assert bled_off(polygon, others, NOTHING_DRAWN, SCALE) is polygon


def test_a_shape_askew_in_an_open_panel_is_no_frame():
    panels = [quad(60, 60, 840, 500), quad(60, 540, 500, 1200)]
    shape = np.array([[80, 560], [300, 560], [260, 700], [80, 640]], float)
    assert settle_open([*panels, shape], [True, False, True], page(), SCALE) == (panels, [True, False])


def test_where_a_border_runs_on_past_its_corner_it_is_no_part_of_the_open_panel_beside():
    content = np.zeros((HEIGHT, WIDTH), bool)
    content[60:500, 60:440] = content[80:480, 480:830] = True
    content[30:60, 437:440] = True
    assert boxes(find_open_panels(content, [quad(*CELLS["first"])], SCALE)) == [(480, 80, 830, 480)]


def bled_page(gap=(0, 0)):
    """A border from edge to edge, but for a gap, under drawing that bare bands from edge to edge cut through."""
    gray = np.full((HEIGHT, WIDTH), 250, np.uint8)
    for top in (0, 220):  # beams, which lean
        cv2.fillPoly(gray, [np.array([[0, top], [900, top + 60], [900, top + 140], [0, top + 80]])], 120)
    cv2.line(gray, (300, 300), (340, 600), 60, 3)
    cv2.line(gray, (0, 600), (WIDTH, 600), 60, 4)
    gray[595:606, gap[0] : gap[1]] = 250
    return find_ground(gray)


def test_what_lies_behind_a_border_from_edge_to_edge_is_one_panel():
    pieces = [quad(0, 0, 900, 140), quad(0, 220, 900, 603), quad(60, 630, 840, 1240)]
    assert is_near(boxes(fill_bands(pieces, bled_page(), SCALE)), [(0, 0, 900, 602), (60, 630, 840, 1240)])


def test_it_is_none_where_that_is_broken_by_a_gutter_or_a_frame_stands_clear_of_the_edges_behind_it():
    pieces = [quad(0, 0, 900, 140), quad(0, 220, 900, 603)]
    assert boxes(fill_bands(pieces, bled_page(gap=(400, 420)), SCALE)) == boxes(pieces)
    framed = [*pieces, quad(60, 320, 840, 560)]
    assert boxes(fill_bands(framed, bled_page(), SCALE)) == boxes(framed)


@pytest.mark.parametrize(("bulges_px", "count"), [(230, 2), (450, 3)])
def test_a_border_from_edge_to_edge_may_bulge_for_a_quarter_of_its_way(bulges_px, count):
    gray = bled_page().gray.copy()
    gray[600:609, 400 : 400 + bulges_px] = 60
    pieces = [quad(0, 0, 900, 140), quad(0, 220, 900, 603), quad(60, 630, 840, 1240)]
    assert len(fill_bands(pieces, find_ground(gray), SCALE)) == count


def test_windows_that_stand_clear_of_the_edges_behind_it_are_a_part_of_its_drawing():
    pieces = [quad(0, 0, 900, 140), quad(0, 220, 900, 603), quad(500, 320, 620, 480), quad(60, 630, 840, 1240)]
    assert is_near(boxes(fill_bands(pieces, bled_page(), SCALE)), [(0, 0, 900, 602), (60, 630, 840, 1240)])


def test_a_floor_that_runs_from_edge_to_edge_too_bounds_no_panel():
    gray = np.full((HEIGHT, WIDTH), 250, np.uint8)
    cv2.line(gray, (0, 700), (WIDTH, 700), 60, 4)
    cv2.fillPoly(gray, [np.array([[0, 780], [900, 790], [900, 830], [0, 820]])], 120)
    cv2.fillPoly(gray, [np.array([[0, 1000], [900, 1010], [900, HEIGHT], [0, HEIGHT]])], 120)
    pieces = [quad(0, 698, 900, 825), quad(0, 1000, 900, HEIGHT)]
    assert is_near(boxes(fill_bands(pieces, find_ground(gray), SCALE)), [(0, 698, 900, HEIGHT)])
