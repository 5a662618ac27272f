from typing import BinaryIO

from django.db import transaction
from django.db.models import Max
from django.utils import timezone

from board.access import Seat
from board.actions.carrying import carry_past, carry_through
from board.actions.classes import class_of_board_runs
from board.actions.events import write_event
from board.actions.measuring import queue_intake
from board.actions.photographs import check_corners, queue_straightening
from board.actions.pictures import kept_picture
from board.actions.row_locks import hold_pages
from board.actions.standing_panels import page_is_shown_anew
from board.actions.versions import save_next_version
from board.errors import LaidAside, NotValid
from board.models import Page, Panel, Revision
from board.models.revision import current_revision
from board.stages.order import STAGES

MOVED = ("page-hand-in", "page-sign-off", "page-send-back")


def receive_revision(
    *,
    seat: Seat,
    page: Page,
    file: BinaryIO,
    stage: str,
    file_name: str = "",
    alternate: str = "",
    panel: Panel | None = None,
    minutes_spent: int | None = None,
    cut_from: dict | None = None,
    corners: list | None = None,
) -> Revision:
    """Keeps the file and writes the revision with its first job. It moves no page but one that nothing is drawn of: that begins at
    its first picture's stage. After that stages move by hand-in and sign-off.

    `corners`: of the paper on a photograph, in page coordinates, clockwise from the upper left; a worker lays the page flat first.
    """
    if stage not in STAGES:
        raise NotValid(f"A stage is one of {', '.join(STAGES)}.")
    if panel is not None and panel.page_id != page.pk:
        raise NotValid("This panel is on another page.")
    if corners is not None:
        check_corners(corners)
    class_of_board_runs(seat.board)
    with kept_picture(file=file) as picture:
        page = Page.objects.select_for_update(no_key=True).get(pk=page.pk)
        if page.laid_aside_at:
            raise LaidAside
        begins = panel is None and _begins(page, alternate, stage)
        number = (page.revisions.aggregate(last=Max("number"))["last"] or 0) + 1
        revision = Revision.objects.create(
            page=page, number=number, stage=stage, panel=panel, picture=picture, file_name=file_name[:200],
            alternate=alternate or (panel or page).chosen_alternate, uploaded_by_id=seat.user.pk, minutes_spent=minutes_spent,
            cut_from=cut_from, photo=picture if corners else None, photo_corners=corners,
        )
        if begins:
            page.stage = stage
            save_next_version(page, "stage")
        write_event(board=seat.board, kind="revision-received", actor=seat.user, page=page, revision=revision.pk, stage=stage)
        if corners:
            queue_straightening(revision=revision)
        else:
            queue_intake(revision=revision)
    return revision


def _begins(page: Page, alternate: str, stage: str) -> bool:
    """With this picture, at another stage than it stands at. One that was withdrawn, at a wrong stage perhaps, began nothing.

    In a class all pages begin together, and each stage is handed in by its own deadline.
    """
    if stage == page.stage or page.board.is_assigned or alternate not in ("", page.chosen_alternate) or current_revision(page):
        return False
    return not page.events.filter(kind__in=MOVED).exists()


@transaction.atomic
def withdraw_revision(*, seat: Seat, revision: Revision) -> Revision:
    """It is kept, and no longer shown; the one before it is the page's picture again."""
    if revision.withdrawn_at:
        return revision
    revision.withdrawn_at, revision.withdrawn_by_id = timezone.now(), seat.user.pk
    _keep(seat, revision, "revision-withdrawn")
    carry_past(revision=revision)
    page_is_shown_anew(page=revision.page)
    return revision


@transaction.atomic
def restore_revision(*, seat: Seat, revision: Revision) -> Revision:
    if not revision.withdrawn_at:
        return revision
    revision.withdrawn_at = revision.withdrawn_by = None
    _keep(seat, revision, "revision-restored")
    carry_through(revision=revision)
    page_is_shown_anew(page=revision.page)
    return revision


def _keep(seat: Seat, revision: Revision, kind: str) -> None:
    hold_pages([revision.page_id])
    revision.save(update_fields=["withdrawn_at", "withdrawn_by"])
    write_event(board=seat.board, kind=kind, actor=seat.user, page=revision.page, revision=revision.pk)
