from typing import BinaryIO

from django.db import transaction

from board.access import Seat
from board.actions.classes import class_of_board_runs
from board.actions.events import write_event
from board.actions.jobs import queue_job
from board.actions.measuring import measure_page_again, measure_still_again
from board.actions.pictures import kept_picture
from board.actions.versions import lock_version, save_next_version
from board.errors import NotPossibleNow, NotValid
from board.exact_camera import ExactCamera
from board.models import Page, Panel, Reference


def add_reference(*, seat: Seat, file: BinaryIO, title: str, kind: str = "still") -> Reference:
    class_of_board_runs(seat.board)
    with kept_picture(file=file) as picture:
        reference = Reference.objects.create(
            board=seat.board, kind=kind, title=title, picture=picture, uploaded_by_id=seat.user.pk
        )
        write_event(board=seat.board, kind="reference-added", actor=seat.user, reference=reference.pk)
        _queue_reading(reference)
    return reference


def _queue_reading(reference: Reference) -> None:
    queue_job(
        board=reference.board, kind="reference", key=f"reference/reference/{reference.pk}", reference=reference,
        inputs={"sha256": reference.picture.sha256, "kind": reference.kind},
    )


@transaction.atomic
def change_reference(*, seat: Seat, reference: Reference, title: str | None = None, kind: str | None = None) -> Reference:
    """A still of a set is solved once it is called one. Raises NotPossibleNow where panels are drawn from it, or it is somebody's
    model sheet: then its kind stays."""
    if kind is not None and kind != reference.kind:
        if reference.panels.exists():
            raise NotPossibleNow("Panels are drawn from it as their still. Untie them first.")
        if reference.model_sheets.exists():
            raise NotPossibleNow("It is a character's model sheet. Take that away first.")
        reference.kind, reference.camera, reference.numbers = kind, None, {}
        _queue_reading(reference)
    reference.title = reference.title if title is None else title
    reference.save(update_fields=["title", "kind", "camera", "numbers"])
    write_event(board=seat.board, kind="reference-changed", actor=seat.user, reference=reference.pk)
    return reference


@transaction.atomic
def remove_reference(*, seat: Seat, reference: Reference) -> None:
    """Panels tied to it are untied."""
    number, pages = reference.pk, list(Page.objects.filter(panels__still=reference).distinct())
    reference.delete()
    for page in pages:
        measure_page_again(page=page)
    write_event(board=seat.board, kind="reference-removed", actor=seat.user, reference=number)


@transaction.atomic
def tie_still(*, seat: Seat, panel: Panel, still: Reference | None, expected_version: int | None) -> Panel:
    """The one picture that is shown beside the panel; None unties it."""
    if still is not None and still.board_id != seat.board.pk:
        raise NotValid("This still belongs to another board.")
    panel = lock_version(panel, expected_version)
    was_placed = panel.still_place is not None
    if panel.still != still:
        panel.still_place = None  # it told where the other picture lies
    panel.still = still
    save_next_version(panel, "still", "still_place")
    write_event(board=seat.board, kind="still-tied", actor=seat.user, page=panel.page, panel=panel.pk)
    if was_placed:
        measure_page_again(page=panel.page)
    return panel


@transaction.atomic
def set_still_camera(*, seat: Seat, reference: Reference, camera: ExactCamera | None) -> Reference:
    """The camera that the still was made with, in place of the one that its lines show; None takes it back."""
    if reference.kind != "still":
        raise NotPossibleNow("Only a still of a set has a camera.")
    reference.camera = camera.as_json() if camera else None
    reference.save(update_fields=["camera"])
    write_event(board=seat.board, kind="reference-camera", actor=seat.user, reference=reference.pk)
    measure_still_again(still=reference)
    return reference
