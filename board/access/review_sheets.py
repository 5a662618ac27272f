from django.contrib.auth.models import AbstractBaseUser
from django.db.models import QuerySet

from board.access.boards import access_by_board
from board.access.seats import Seat, shown_or_missing
from board.models import ReviewSheet


def visible_review_sheets(seat: Seat) -> QuerySet[ReviewSheet]:
    """One's own: each is made of what its member may see."""
    return ReviewSheet.objects.filter(board=seat.board, requested_by_id=seat.user.pk)


def access_review_sheet(user: AbstractBaseUser, pk: int) -> tuple[Seat, ReviewSheet]:
    sheet = ReviewSheet.objects.select_related("board").filter(pk=pk).first()
    seat = access_by_board(user, sheet.board if sheet else None)
    return seat, shown_or_missing(visible_review_sheets(seat).filter(pk=pk).first())
