from django.http.response import HttpResponseBase
from django.urls import reverse
from django.utils.http import content_disposition_header
from django.utils.text import slugify
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.body import Body
from api.endpoint import Endpoint
from api.picture_answers import AnyAccept, picture_answer
from board.access import access_board, access_review_sheet, visible_review_sheets
from board.actions.review_sheets import request_review_sheet
from board.errors import NotFound
from board.models import ReviewSheet
from board.models.review_sheet import NOTES_SHOWN, REVIEW_SHEET_STATES

PDF = "application/pdf"


class ReviewSheetWish(Body):
    notes = serializers.ChoiceField(NOTES_SHOWN, required=False, help_text="Those that wait for somebody, or all.")


class ReviewSheetSerializer(serializers.ModelSerializer):
    notes = serializers.ChoiceField(NOTES_SHOWN, source="notes_shown")
    state = serializers.ChoiceField(REVIEW_SHEET_STATES)
    file = serializers.SerializerMethodField()

    class Meta:
        model = ReviewSheet
        fields = ["id", "board", "notes", "state", "reason", "file", "created_at"]

    def get_file(self, sheet: ReviewSheet) -> str | None:
        return reverse("api:review-sheet-file", args=[sheet.pk]) if sheet.file_name else None


class ReviewSheetEndpoint(Endpoint):
    shape = ReviewSheetSerializer


class BoardReviewSheets(ReviewSheetEndpoint):
    """A board on paper: its pages with their notes, numbers and evidence as a PDF. What one may see stands on it, and no more."""

    lists = True
    queryset = ReviewSheet.objects.none()
    ordering = ("-pk",)
    reach = access_board
    bodies = {"POST": ReviewSheetWish}
    makes = "review-sheet"

    def get(self, request: Request, pk: int) -> Response:
        return self.answer_page(visible_review_sheets(self.seat))

    def post(self, request: Request, pk: int) -> Response:
        body = self.read_body()
        return self.answer(request_review_sheet(seat=self.seat, **({"notes_shown": body["notes"]} if body else {})))


class OneReviewSheet(ReviewSheetEndpoint):
    reach = access_review_sheet

    def get(self, request: Request, pk: int) -> Response:
        return self.answer(self.row)


class ReviewSheetFile(Endpoint):
    content_negotiation_class = AnyAccept
    media_types = (PDF,)
    reach = access_review_sheet

    def get(self, request: Request, pk: int) -> HttpResponseBase:
        if not self.row.file_name:
            raise NotFound("This sheet is not made yet.")
        board = self.seat.board
        # Of a class as many lie in one folder as there are students.
        by = slugify(board.work.enrolment.shown_name, allow_unicode=True) if hasattr(board, "work") else ""
        told = (slugify(board.title) or f"board-{board.pk}", by, f"review-{self.row.created_at:%Y-%m-%d}.pdf")
        name = "-".join(words for words in told if words)
        disposition = content_disposition_header(True, name) or "attachment"
        headers = {"Cache-Control": "private, no-cache", "Content-Disposition": disposition}
        return picture_answer(request, self.row.file_name, PDF, headers)
