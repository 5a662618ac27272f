"""Answer, settlement and stet: PUT gives it, DELETE takes it back and opens the note again."""

from rest_framework.request import Request
from rest_framework.response import Response

from api.note_shape import NoteEndpoint
from board.access import access_note
from board.actions.note_states import open_note_again, set_note_state
from board.models.note import ANSWERED, SETTLED, STET


class NoteState(NoteEndpoint):
    state = ""
    reach = access_note
    versioned = ("PUT", "DELETE")
    statuses = {"DELETE": 200}

    def put(self, request: Request, pk: int) -> Response:
        version = self.version_named()
        return self.answer(set_note_state(seat=self.seat, note=self.row, state=self.state, expected_version=version))

    def delete(self, request: Request, pk: int) -> Response:
        version = self.version_named()
        return self.answer(open_note_again(seat=self.seat, note=self.row, from_state=self.state, expected_version=version))


class Answer(NoteState):
    """The artist says that it is dealt with."""

    state = ANSWERED


class Settlement(NoteState):
    """The reviewer agrees that it is dealt with."""

    state = SETTLED


class Stet(NoteState):
    """Let it stand: it is meant so."""

    state = STET
