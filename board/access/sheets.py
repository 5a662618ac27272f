from django.contrib.auth.models import AbstractBaseUser
from django.db.models import QuerySet

from board.access.boards import access_by_board
from board.access.seats import Need, Seat, require, shown_or_missing
from board.models import Sheet


def visible_sheets(seat: Seat) -> QuerySet[Sheet]:
    """A sheet shows several pages at once, so a student sees only their own."""
    sheets = Sheet.objects.filter(board=seat.board)
    return sheets.filter(uploaded_by_id=seat.user.pk) if seat.sees_only_own_pages else sheets


def access_sheet(user: AbstractBaseUser, pk: int, need: Need | None = None) -> tuple[Seat, Sheet]:
    sheet = Sheet.objects.select_related("board").filter(pk=pk).first()
    seat = access_by_board(user, sheet.board if sheet else None)
    sheet = shown_or_missing(visible_sheets(seat).select_related("board", "picture", "uploaded_by").filter(pk=pk).first())
    require(seat, need is None or need(seat))
    return seat, sheet
