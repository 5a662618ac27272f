"""What a worker brings back of an upload: it could be decoded, or not."""

from typing import Any

from django.db import transaction

from board.actions.events import write_event
from board.actions.measuring import queue_ready_checks, queue_renditions
from board.actions.stage_moves import take_back_hand_in_of_nothing
from board.models import Picture, Reference, Rendition, Revision, Sheet
from board.models.revision import READY, REFUSED

Uploaded = Revision | Sheet | Reference


@transaction.atomic
def record_picture_size(*, picture: Picture, width_px: int, height_px: int, dpi: float | None) -> None:
    Picture.objects.filter(pk=picture.pk).update(width_px=width_px, height_px=height_px, dpi=dpi)


@transaction.atomic
def record_renditions(*, picture: Picture, sizes: dict[int, tuple[int, int]]) -> None:
    """`sizes`: nominal width -> (width, height) in px; the files are written already."""
    for nominal_px, (width_px, height_px) in sizes.items():
        Rendition.objects.update_or_create(
            picture=picture, nominal_px=nominal_px, defaults={"width_px": width_px, "height_px": height_px}
        )


@transaction.atomic
def mark_revision_ready(*, revision: Revision) -> None:
    """It can be seen and measured: queues its renditions and the first checks."""
    revision.state, revision.reason = READY, ""
    revision.save(update_fields=["state", "reason"])
    write_event(board=revision.page.board, kind="revision-ready", page=revision.page, revision=revision.pk)
    queue_renditions(revision=revision)
    if revision.panel_id is None:
        queue_ready_checks(revision=revision)


@transaction.atomic
def tell_pictures_are_there(*, revision: Revision) -> None:
    write_event(board=revision.page.board, kind="renditions-ready", page=revision.page, revision=revision.pk)


@transaction.atomic
def mark_ready(*, uploaded: Sheet | Reference, **fields: object) -> None:
    uploaded.state, uploaded.reason = READY, ""
    for name, value in fields.items():
        setattr(uploaded, name, value)
    uploaded.save(update_fields=["state", "reason", *fields])
    kind = type(uploaded).__name__.lower()
    data: dict[str, Any] = {kind: uploaded.pk}
    write_event(board=uploaded.board, kind=f"{kind}-ready", **data)


@transaction.atomic
def mark_refused(*, uploaded: Uploaded, reason: str) -> None:
    """Its bytes stay: people can fetch them, and see why they were not taken."""
    uploaded.state, uploaded.reason = REFUSED, reason[:500]
    uploaded.save(update_fields=["state", "reason"])
    page, board = (uploaded.page, uploaded.page.board) if isinstance(uploaded, Revision) else (None, uploaded.board)
    kind = type(uploaded).__name__.lower()
    data: dict[str, Any] = {kind: uploaded.pk, "reason": uploaded.reason}
    write_event(board=board, kind=f"{kind}-refused", page=page, **data)
    if page:
        take_back_hand_in_of_nothing(page=page)
