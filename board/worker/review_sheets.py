"""Makes a review sheet, by the rights that its member has now."""

from tempfile import TemporaryFile

from django.utils import timezone

from board.access import access_board
from board.actions.review_sheets import fail_review_sheet, record_review_sheet
from board.models import Job
from board.picture_files import keep_file
from board.worker.outcome import Outcome
from board.worker.review_sheet.document import set_review_sheet
from board.worker.review_sheet.told import gather
from board.worker.subjects import review_sheet_of


def handle(job: Job) -> Outcome:
    sheet = review_sheet_of(job)
    seat = access_board(sheet.requested_by, sheet.board_id)
    told = gather(seat, sheet.notes_shown, timezone.now())
    name = f"review-sheets/{sheet.pk}-{job.claim}.pdf"
    with TemporaryFile() as file:
        sheets = set_review_sheet(told, file)
        keep_file(name, file)

    def record() -> None:
        record_review_sheet(sheet=sheet, file_name=name)

    return Outcome({"pages": len(told.pages), "sheets": sheets}, record)


def failed(job: Job) -> None:
    fail_review_sheet(sheet=review_sheet_of(job), reason=job.reason)
