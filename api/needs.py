"""What a person needs for a request beyond seeing the row: claims about their seat. Those about a row are in `board.access`."""

from typing import Any

from board.access import ClassSeat, Seat


def may_write(seat: Seat, row: Any) -> bool:
    return seat.may_write


def may_draw(seat: Seat, row: Any) -> bool:
    return seat.may_draw


def may_run_board(seat: Seat, row: Any) -> bool:
    return seat.may_run_board


def may_change_board(seat: Seat, row: Any) -> bool:
    return seat.may_change_board


def may_change_members(seat: Seat, row: Any) -> bool:
    return seat.may_change_members


def may_invite(seat: Seat, row: Any) -> bool:
    return seat.may_invite


def may_keep_cast(seat: Seat, row: Any) -> bool:
    return seat.may_keep_cast


def may_add_pages(seat: Seat, row: Any) -> bool:
    return seat.may_add_pages


def may_add_references(seat: Seat, row: Any) -> bool:
    return seat.may_add_references


def instructs(seat: ClassSeat, row: Any) -> bool:
    return seat.instructs
