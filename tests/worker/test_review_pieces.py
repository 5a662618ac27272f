"""A strip for scrolling stands on a sheet in pieces side by side, so large that it can be read, and cut between its panels."""

import pytest

from board.worker.review_sheet.pieces import GAP, how_many, pieces_of

LEFT, TOP, ACROSS, HIGH = 36.0, 750.0, 523.0, 460.0


@pytest.mark.parametrize("tall", [0.5, 0.71, 1.41, 2.9])
def test_a_page_stands_whole_and_as_large_as_there_is_room(tall):
    (piece,) = pieces_of(tall, [], LEFT, TOP, ACROSS, HIGH)
    left, bottom, right, top = piece.box
    assert (left, top) == (LEFT, TOP) and piece.whole == pytest.approx(piece.box)
    assert (top - bottom) / (right - left) == pytest.approx(tall)
    assert right - left == pytest.approx(ACROSS) or top - bottom == pytest.approx(HIGH)


@pytest.mark.parametrize("tall", [3.2, 6.0, 15.0, 37.5])
def test_a_strip_is_all_there_once_in_order_and_wider_than_in_one_piece(tall):
    pieces = pieces_of(tall, [], LEFT, TOP, ACROSS, HIGH)
    assert len(pieces) == how_many(tall, ACROSS, HIGH) > 1
    assert [piece.first for piece in pieces] == [0.0, *(piece.last for piece in pieces[:-1])] and pieces[-1].last == 1.0
    assert all(before.box[2] + GAP == pytest.approx(after.box[0]) for before, after in zip(pieces, pieces[1:], strict=False))
    assert pieces[-1].box[2] <= LEFT + ACROSS + 1e-6 and min(piece.box[1] for piece in pieces) >= TOP - HIGH - 1e-6
    wide = pieces[0].box[2] - pieces[0].box[0]
    assert wide > 1.7 * HIGH / tall
    for piece in pieces:  # every piece at one scale, and each point of the picture where its piece has it
        assert (piece.box[3] - piece.box[1]) / (piece.last - piece.first) == pytest.approx(tall * wide)
        assert piece.place((0.0, piece.first)) == pytest.approx((piece.box[0], piece.box[3]))
        assert piece.place((1.0, piece.last)) == pytest.approx((piece.box[2], piece.box[1]))


def test_cuts_stand_between_panels_that_are_near_and_through_one_that_is_longer():
    twelve = [(k / 12 + 0.005, (k + 1) / 12 - 0.005) for k in range(12)]
    assert [piece.last for piece in pieces_of(15.0, twelve, LEFT, TOP, ACROSS, HIGH)] == pytest.approx([3 / 12, 6 / 12, 9 / 12, 1])
    uneven = [(0.0, 0.2), (0.22, 0.9), (0.9, 1.0)]
    assert [piece.last for piece in pieces_of(15.0, uneven, LEFT, TOP, ACROSS, HIGH)] == pytest.approx([0.21, 0.5, 0.75, 1])
