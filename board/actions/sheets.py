from typing import BinaryIO

from django.db import transaction

from board.access import Seat
from board.actions.classes import class_of_board_runs
from board.actions.events import write_event
from board.actions.jobs import queue_job
from board.actions.pictures import kept_picture
from board.errors import NotPossibleNow, NotValid
from board.models import Page, Sheet
from board.models.revision import READY
from board.page_space import read_region


def receive_sheet(*, seat: Seat, file: BinaryIO, file_name: str = "") -> Sheet:
    """A picture that holds several thumbnails. A worker looks for them; people say which is which page."""
    class_of_board_runs(seat.board)
    with kept_picture(file=file) as picture:
        sheet = Sheet.objects.create(board=seat.board, picture=picture, file_name=file_name[:200], uploaded_by_id=seat.user.pk)
        write_event(board=seat.board, kind="sheet-received", actor=seat.user, sheet=sheet.pk)
        queue_job(board=seat.board, kind="sheet", key=f"sheet/sheet/{sheet.pk}", sheet=sheet, inputs={"sha256": picture.sha256})
    return sheet


@transaction.atomic
def cut_sheet(*, seat: Seat, sheet: Sheet, cuts: list[dict]) -> Sheet:
    """`cuts`: [{"polygon": [[x, y], …], "page": page id}]. A worker cuts each out as that page's thumbnail revision, in the
    order of the pages: what one takes over from another is then told of the later one."""
    class_of_board_runs(seat.board)
    sheet = Sheet.objects.select_for_update(no_key=True).get(pk=sheet.pk)
    if sheet.state != READY:
        raise NotPossibleNow("The sheet is not read yet." if not sheet.reason else f"The sheet was refused: {sheet.reason}")
    if not cuts:
        raise NotValid("Say which part of the sheet is which page.")
    pages = Page.objects.in_bulk([cut["page"] for cut in cuts])
    if len(pages) < len(cuts) or any(page.board_id != sheet.board_id or not seat.draws(page) for page in pages.values()):
        raise NotValid("Each part goes to one page of this board that you draw, and no page twice.")
    in_order = sorted(cuts, key=lambda cut: pages[cut["page"]].number)
    try:
        sheet.cuts = [{"polygon": read_region({"polygon": cut["polygon"]})["polygon"], "page": cut["page"]} for cut in in_order]
    except ValueError as error:
        raise NotValid(str(error)) from error
    sheet.save(update_fields=["cuts"])
    write_event(board=seat.board, kind="sheet-cut", actor=seat.user, sheet=sheet.pk)
    queue_job(
        board=seat.board, kind="cut", key=f"cut/sheet/{sheet.pk}", sheet=sheet, inputs={"cuts": sheet.cuts, "by": seat.user.pk}
    )
    return sheet
