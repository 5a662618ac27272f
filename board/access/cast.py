from django.contrib.auth.models import AbstractBaseUser

from board.access.boards import access_by_board
from board.access.seats import Need, Seat, shown_or_missing
from board.models import Character, ModelSheet


def access_character(user: AbstractBaseUser, pk: int, need: Need | None = None) -> tuple[Seat, Character]:
    character = Character.objects.select_related("board").filter(pk=pk).first()
    seat = access_by_board(user, character.board if character else None, need)
    return seat, shown_or_missing(character)


def access_model_sheet(user: AbstractBaseUser, pk: int, need: Need | None = None) -> tuple[Seat, ModelSheet]:
    sheet = ModelSheet.objects.select_related("character__board", "reference__picture").filter(pk=pk).first()
    seat = access_by_board(user, sheet.character.board if sheet else None, need)
    return seat, shown_or_missing(sheet)
