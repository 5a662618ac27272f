"""The cast of a board. Whoever changes a height or a proportion changes what figures are measured against."""

import string

from django.db import transaction

from board.access import Seat
from board.actions.events import write_event
from board.actions.measuring import measure_figures_again
from board.actions.versions import lock_version, save_next_version
from board.errors import AlreadyThere, NotValid
from board.models import Board, Character
from board.proportion_presets import PRESETS


@transaction.atomic
def add_character(*, seat: Seat, name: str, key: str = "", **fields: object) -> Character:
    """Without a key it gets a letter of its name, or any that is free."""
    board = Board.objects.select_for_update(no_key=True).get(pk=seat.board.pk)
    character = Character(board=board, name=name, key=key or _free_key(board, name), **fields)
    _check(character)
    character.save()
    write_event(board=board, kind="character-added", actor=seat.user, character=character.pk)
    return character


@transaction.atomic
def change_character(*, seat: Seat, character: Character, expected_version: int | None, **fields: object) -> Character:
    character = lock_version(character, expected_version)
    for field, value in fields.items():
        setattr(character, field, value)
    _check(character)
    save_next_version(character, *fields)
    write_event(board=seat.board, kind="character-changed", actor=seat.user, character=character.pk)
    measure_figures_again(board=seat.board, character=character)
    return character


@transaction.atomic
def remove_character(*, seat: Seat, character: Character) -> None:
    """Its figures and sheets go with it; the pictures of the sheets stay among the references."""
    pages = list(character.figures.values_list("page", flat=True).distinct())
    number = character.pk
    character.delete()
    write_event(board=seat.board, kind="character-removed", actor=seat.user, character=number)
    measure_figures_again(board=seat.board, pages=pages)


def _check(character: Character) -> None:
    others = Character.objects.filter(board=character.board).exclude(pk=character.pk)
    if others.filter(name=character.name).exists():
        raise AlreadyThere(f"There is a character {character.name} already.")
    if other := others.filter(key=character.key).first():
        raise AlreadyThere(f"The key {character.key} stands for {other.name} already.")
    if character.preset and character.preset not in PRESETS:
        raise NotValid(f"There are no published proportions “{character.preset}”.")


def _free_key(board: Board, name: str) -> str:
    taken = set(Character.objects.filter(board=board).values_list("key", flat=True))
    wished = [letter for letter in name.lower() if letter in string.ascii_lowercase]
    for letter in (*wished, *string.ascii_lowercase, *string.digits):
        if letter not in taken:
            return letter
    raise NotValid("All keys are taken: a board has room for 36 characters.")
