"""Model sheets: which picture shows a character, and where its landmarks are on it."""

from django.db import transaction

from board.access import Seat
from board.actions.events import write_event
from board.actions.measuring import measure_figures_again
from board.actions.versions import lock_version, save_next_version
from board.errors import NotValid
from board.models import Character, ModelSheet, Reference


@transaction.atomic
def add_model_sheet(*, seat: Seat, character: Character, reference: int, **fields: object) -> ModelSheet:
    picture = Reference.objects.filter(board=seat.board, pk=reference).first()
    if picture is None:
        raise NotValid("There is no such reference on this board.")
    sheet = ModelSheet.objects.create(character=character, reference=picture, **fields)
    _tell(seat, sheet, "model-sheet-added")
    return sheet


@transaction.atomic
def change_model_sheet(*, seat: Seat, sheet: ModelSheet, expected_version: int | None, **fields: object) -> ModelSheet:
    """Its view, the page from which it holds, its landmarks, the height that its character has by then."""
    sheet = lock_version(sheet, expected_version)
    for field, value in fields.items():
        setattr(sheet, field, value)
    save_next_version(sheet, *fields)
    _tell(seat, sheet, "model-sheet-changed")
    return sheet


@transaction.atomic
def remove_model_sheet(*, seat: Seat, sheet: ModelSheet) -> None:
    """The picture stays among the references."""
    character, number = sheet.character, sheet.pk
    sheet.delete()
    write_event(board=seat.board, kind="model-sheet-removed", actor=seat.user, sheet=number, character=character.pk)
    measure_figures_again(board=seat.board, character=character)


def _tell(seat: Seat, sheet: ModelSheet, kind: str) -> None:
    write_event(board=seat.board, kind=kind, actor=seat.user, sheet=sheet.pk, character=sheet.character_id)
    measure_figures_again(board=seat.board, character=sheet.character)
