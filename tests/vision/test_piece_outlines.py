"""A panel that was cut is whole again; what a border runs into past its corner is no part of its panel."""

from dataclasses import replace

import cv2
import numpy as np
import pytest

from board.vision.page_ground import find_ground
from board.vision.page_piece import Piece, PieceScale
from board.vision.panel_outline import sides_in
from board.vision.piece_outlines import outlines_of
from board.vision.ruled_strokes import RuledStroke

SCALE = PieceScale(1200.0, 1200.0 * 900)
PEN = RuledStroke(1.0, 0.3, 60.0, 4.0)
FRAME = (300, 200, 700, 600)


def ruled(gray):
    cv2.rectangle(gray, FRAME[:2], FRAME[2:], 60, 4)
    return gray


def outlines(gray, pieces, cuts=(), pen=PEN):
    page = find_ground(gray)
    found = outlines_of([(piece, sides_in(piece, SCALE)) for piece in pieces], list(cuts), replace(page, pen=pen), SCALE)
    return [np.round(np.concatenate([one.polygon.min(axis=0), one.polygon.max(axis=0)])) for one in found]


def piece_of(mask):
    rows, columns = np.nonzero(mask)
    top, left = rows.min(), columns.min()
    return Piece(mask[top : rows.max() + 1, left : columns.max() + 1], int(left), int(top))


def content(gray):
    return ~find_ground(gray).ground


def cut_by_a_beam(mask, slant):
    """The parts above and below a line that leans across the frame."""
    rows, columns = np.indices(mask.shape)
    above = rows < 270 + slant * (columns - 500)
    return [piece_of(mask & above), piece_of(mask & ~above)]


def not_bitten(mask):
    """All but what a balloon of the paper's white takes of the upper part."""
    return cv2.ellipse(np.ones(mask.shape, np.uint8), (400, 230), (70, 70), 0, 0, 360, 0, -1) > 0


@pytest.mark.parametrize(("slant", "count"), [(0.35, 1), (0.0, 2)])
def test_a_cut_is_undone_where_one_of_its_parts_is_no_frame_and_what_was_cut_is_one(slant, count):
    gray = ruled(np.full((1200, 900), 250, np.uint8))
    mask = content(gray)
    if slant:
        mask &= not_bitten(mask)
    parts = cut_by_a_beam(mask, slant)
    found = outlines(gray, parts, [(piece_of(mask), parts)])
    assert len(found) == count
    if count == 1:
        assert np.abs(found[0] - FRAME).max() <= 6


def test_it_is_left_where_nothing_is_drawn_round_the_whole():
    gray = np.full((1200, 900), 250, np.uint8)
    gray[FRAME[1] : FRAME[3], FRAME[0] : FRAME[2]] = 150
    mask = content(gray)
    mask &= not_bitten(mask)
    parts = cut_by_a_beam(mask, 0.35)
    assert len(outlines(gray, parts, [(piece_of(mask), parts)])) == 2


def hung_on(gray, runs_on_px):
    """A roof of the open panel beside that the frame's upper border runs into; its sides run on below its lower border."""
    cv2.line(gray, (265, 200), (300, 200), 60, 4)
    cv2.line(gray, (265, 200), (160, 330), 60, 4)
    cv2.line(gray, (160, 330), (230, 420), 60, 4)
    for x in (300, 700):
        cv2.line(gray, (x, 600), (x, 600 + runs_on_px), 60, 4)
    return gray


@pytest.mark.parametrize(("runs_on_px", "is_apart"), [(0, True), (16, True), (90, False)])
def test_what_hangs_on_a_border_that_runs_on_is_no_part_of_the_panel_unless_that_goes_on(runs_on_px, is_apart):
    gray = hung_on(ruled(np.full((1200, 900), 250, np.uint8)), runs_on_px)
    (found,) = outlines(gray, [piece_of(content(gray))])
    assert (np.abs(found - FRAME).max() <= 6) == is_apart
