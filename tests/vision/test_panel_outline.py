"""The outline of a panel that something hangs on."""

import numpy as np

from board.vision.page_piece import Piece, PieceScale
from board.vision.panel_outline import outline_of, outline_of_body

SCALE = PieceScale(1300.0, 1300.0 * 900)


def hung_on_a_border():
    """A panel that a stroke joins to the border of one above it, which runs from edge to edge."""
    mask = np.zeros((430, 900), bool)
    mask[0:5] = True
    mask[5:30, 500:504] = True
    mask[30:, 300:600] = True
    return Piece(mask, 0, 800)


def test_a_border_that_hangs_on_a_panel_by_a_stroke_is_left_out_of_its_outline():
    piece = hung_on_a_border()
    outline = outline_of_body(piece, (1300, 900), SCALE)
    assert outline.framed
    assert np.abs(outline.polygon.min(axis=0) - (300, 830)).max() <= 3
    assert np.abs(outline.polygon.max(axis=0) - (600, 1230)).max() <= 3
    assert np.ptp(outline_of(piece, SCALE).polygon[:, 0]) > 850


def test_a_panel_whose_corner_a_stroke_runs_on_past_keeps_its_outline():
    mask = np.zeros((420, 330), bool)
    mask[20:, :300] = True
    mask[20:24] = mask[:, 296:300] = True
    piece = Piece(mask, 0, 0)
    assert np.array_equal(outline_of_body(piece, (1300, 900), SCALE).polygon, outline_of(piece, SCALE).polygon)
