"""Where a piece of the page is cut: candidates, rivals, and what tells how wide gutters are."""

from dataclasses import replace

import cv2
import numpy as np
import pytest

from board.vision import panel_pieces
from board.vision.frame_lines import FrameLine
from board.vision.gutter_evidence import PossibleGutter
from board.vision.gutter_place import GutterPlace
from board.vision.gutter_strip import NO_STRIP
from board.vision.page_ground import find_ground
from board.vision.page_piece import Piece, PieceScale
from board.vision.panel_frames import find_panels

SCALE = PieceScale(1200.0, 1200.0 * 900)
DOWN = np.array([0.0, 1.0])


def test_a_slot_that_became_ground_and_is_closed_all_round_is_looked_at_again():
    mask = np.ones((500, 780), bool)
    mask[40:460, 380:400] = False
    page = find_ground(np.full((1200, 900), 250, np.uint8))
    hole = np.zeros((1200, 900), bool)
    hole[100:520, 440:460] = True
    page = replace(page, ground=hole, slots=hole)
    upright = [line for line in panel_pieces._slot_lines(Piece(mask, 60, 60), page, SCALE) if abs(line.normal[0]) > 0.99]
    assert len(upright) == 2 and {round(float(line.normal[0])) for line in upright} == {-1, 1}


def gutter(middle, width=20.0, share=0.9, normal=DOWN):
    """One that may run along the level line y = middle."""
    strip = replace(NO_STRIP, share=share, near=middle - width / 2, far=middle + width / 2)
    ends = np.array([60.0, middle]), np.array([840.0, middle])
    return PossibleGutter(share, GutterPlace(None, normal, ends, strip, None, SCALE))


@pytest.mark.parametrize(("middle", "is_rival"), [(570.0, False), (574.0, False), (592.0, True), (640.0, False)])
def test_a_strip_beside_another_is_its_rival_unless_it_is_the_same_or_leaves_room_for_a_panel(middle, is_rival):
    assert gutter(middle).is_rival_of(gutter(570.0)) == is_rival
    across = PossibleGutter(0.9, replace(gutter(middle).place, normal=np.array([1.0, 0.0])))
    assert not across.is_rival_of(gutter(570.0))


@pytest.mark.parametrize(("odds_of_beam", "chosen"), [(1.7, 560.0), (9.0, 592.0)])
def test_of_two_strips_with_no_panel_between_them_the_likelier_is_the_gutter(monkeypatch, odds_of_beam, chosen):
    odds = {592.0: odds_of_beam, 560.0: 7.8, 300.0: 12.0}
    lines = {at: FrameLine(DOWN, at, 700.0, (60.0, 840.0)) for at in odds}
    found = [(gutter(at), lines[at]) for at in odds]  # the beam's flanks are whole, and so it comes first
    monkeypatch.setattr(panel_pieces, "_parts_both_sides", lambda *_: True)
    monkeypatch.setattr(PossibleGutter, "is_likely", True)
    monkeypatch.setattr(PossibleGutter, "odds", property(lambda one: odds[one.place.ends[0][1]]))
    assert panel_pieces._best_cut(found, Piece(np.ones((2, 2), bool), 0, 0), SCALE).offset == chosen


def test_where_no_width_is_known_all_gutters_that_are_likely_tell_it():
    gray = np.full((1200, 900), 250, np.uint8)
    cv2.rectangle(gray, (60, 60), (840, 1140), 60, 4)
    for top, wide in ((400, 12), (760, 17)):
        for y in (top, top + wide):
            cv2.line(gray, (45, y), (855, y), 60, 4)
    for x in (60, 840):
        cv2.line(gray, (x, 45), (x, 1155), 60, 4)
    page = find_ground(gray)
    (piece,) = panel_pieces._large_parts(~page.ground, 0, 0, SCALE)
    page = replace(page, pen=panel_pieces.pen_of(panel_pieces._with_lines([piece], SCALE), page, SCALE))
    widths = panel_pieces._likely_widths_px(panel_pieces._possible_cuts(piece, panel_pieces.sides_in(piece, SCALE), page, SCALE))
    assert page.gutter_px == 0 and max(widths) - min(widths) >= 4
    assert len(find_panels(gray).panels) == 3


def test_a_frame_is_parted_from_a_tier_with_an_open_panel_whose_drawing_ends_short_of_the_gutter():
    gray = np.full((1200, 900), 250, np.uint8)
    for left, top, right, bottom in ((60, 60, 840, 560), (500, 580, 840, 1140)):
        cv2.rectangle(gray, (left, top), (right, bottom), 60, 3)
        cv2.circle(gray, ((left + right) // 2, (top + bottom) // 2), 70, 60, 3)
    cv2.line(gray, (840, 540), (840, 600), 60, 3)
    for x in range(80, 460, 60):
        cv2.line(gray, (x, 700 + x // 3), (x, 1100), 60, 2)
    frames = [np.concatenate([one.min(axis=0), one.max(axis=0)]) for one in find_panels(gray).panels]
    assert np.abs(frames[0] - (58, 58, 843, 563)).max() <= 4
    assert np.abs(frames[-1] - (498, 578, 843, 1143)).max() <= 4
