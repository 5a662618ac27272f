from django.contrib.auth.models import AbstractBaseUser

from board.access.boards import access_by_board
from board.access.seats import Need, Seat, shown_or_missing
from board.models import Reference


def access_reference(user: AbstractBaseUser, pk: int, need: Need | None = None) -> tuple[Seat, Reference]:
    reference = Reference.objects.select_related("board", "picture").filter(pk=pk).first()
    seat = access_by_board(user, reference.board if reference else None, need)
    return seat, shown_or_missing(reference)


def may_change_reference(seat: Seat, reference: Reference) -> bool:
    return seat.may_run_board or (reference.uploaded_by_id == seat.user.pk and seat.may_write)
