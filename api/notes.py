from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.body import Body, LinesField, RegionField
from api.needs import may_write
from api.note_filters import BoardNoteFilters, NoteFilters
from api.note_shape import NoteEndpoint, whole_notes
from board.access import access_board, access_note, access_page, notes_in_comic, visible_notes, visible_revisions
from board.actions.notes import change_note, drop_held_note, pin_note
from board.errors import NotValid
from board.models import Note, Revision
from board.models.note import SCOPES, TONES

LONGEST_BODY = 20_000


class NoteOnBoard(Body):
    tone = serializers.ChoiceField(TONES)
    body = serializers.CharField(max_length=LONGEST_BODY)
    held = serializers.BooleanField(required=False)
    criterion = serializers.IntegerField(
        required=False, allow_null=True, min_value=1, help_text="Of the rubric, on a board that was made from an assignment."
    )


class NoteOnPage(NoteOnBoard):
    region = RegionField(required=False, allow_null=True)
    lines = LinesField(required=False)
    scope = serializers.ChoiceField([scope for scope in SCOPES if scope != "board"], required=False)
    revision = serializers.IntegerField(
        required=False, allow_null=True, min_value=1,
        help_text="That it is pinned on. Left out: the page's picture, of those that were read.",
    )


class NoteChange(Body):
    tone = serializers.ChoiceField(TONES)
    body = serializers.CharField(max_length=LONGEST_BODY)
    region = RegionField()
    lines = LinesField()


class PageNotes(NoteEndpoint):
    """Notes on a page: on a region of it, on all of it, or on the spread that it is part of."""

    lists = True
    queryset = Note.objects.none()
    filterset_class = NoteFilters
    reach = access_page
    needs = {"POST": may_write}
    bodies = {"POST": NoteOnPage}
    makes = "note"

    def get(self, request: Request, pk: int) -> Response:
        return self.answer_page(whole_notes(visible_notes(self.seat).filter(page=self.row)))

    def post(self, request: Request, pk: int) -> Response:
        body = self.read_body()
        body["revision"] = self._revision(body.get("revision"))
        return self.answer(pin_note(seat=self.seat, page=self.row, is_held=body.pop("held", False), **body))

    def _revision(self, number: int | None) -> Revision | None:
        if number is None:
            return None
        revision = visible_revisions(self.seat).filter(page=self.row, pk=number).first()
        if revision is None:
            raise NotValid("This revision is not one of this page.")
        return revision


class BoardNotes(NoteEndpoint):
    """All notes on a board and on the pages of its comic. One that is added here is on the board as a whole."""

    lists = True
    queryset = Note.objects.none()
    filterset_class = BoardNoteFilters
    reach = access_board
    needs = {"POST": may_write}
    bodies = {"POST": NoteOnBoard}
    makes = "note"

    def get(self, request: Request, pk: int) -> Response:
        return self.answer_page(whole_notes(notes_in_comic(self.seat)))

    def post(self, request: Request, pk: int) -> Response:
        body = self.read_body()
        return self.answer(pin_note(seat=self.seat, is_held=body.pop("held", False), **body))


class OneNote(NoteEndpoint):
    """Its writer can change it; what was never sent can be dropped."""

    reach = access_note
    bodies = {"PATCH": NoteChange}
    versioned = ("PATCH", "DELETE")

    def get(self, request: Request, pk: int) -> Response:
        return self.answer(self.row)

    def patch(self, request: Request, pk: int) -> Response:
        version = self.version_named()
        return self.answer(change_note(seat=self.seat, note=self.row, expected_version=version, **self.read_body()))

    def delete(self, request: Request, pk: int) -> Response:
        drop_held_note(seat=self.seat, note=self.row, expected_version=self.version_named())
        return Response(status=204)
