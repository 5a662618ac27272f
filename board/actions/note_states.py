"""Answer, settle, stet and open again: what people may do to the state of a note."""

from collections.abc import Callable

from django.db import transaction
from django.utils import timezone

from board.access import Seat, may_answer, may_let_stand, may_settle
from board.actions.events import write_event
from board.actions.versions import lock_version, save_next_version
from board.errors import NotAllowed, NotPossibleNow
from board.models import Note
from board.models.note import ANSWERED, GONE, HELD, OPEN, SETTLED, STET

# new state: who may bring it about, from which states, what it is called when refused
CHANGES: dict[str, tuple[Callable[[Seat, Note], bool], tuple[str, ...], str]] = {
    ANSWERED: (may_answer, (OPEN,), "Only an open note can be answered."),
    SETTLED: (may_settle, (OPEN, ANSWERED, STET, GONE), "This note is settled already."),
    STET: (may_let_stand, (OPEN, ANSWERED), "Only an open or answered note can be let stand."),
}


@transaction.atomic
def set_note_state(*, seat: Seat, note: Note, state: str, expected_version: int | None) -> Note:
    """`state`: answered, settled or stet."""
    allowed, from_states, refusal = CHANGES[state]
    if not allowed(seat, note):
        raise NotAllowed
    note = lock_version(note, expected_version)
    if note.state == state:
        return note
    if note.state not in from_states:
        raise NotPossibleNow("This note is still held; send it first." if note.state == HELD else refusal)
    return _moved(seat, note, state, f"note-{state}")


@transaction.atomic
def open_note_again(*, seat: Seat, note: Note, from_state: str, expected_version: int | None) -> Note:
    """Takes the answer, the settlement or the stet (`from_state`) back: by whoever could have given it."""
    allowed = CHANGES[from_state][0]
    if not (allowed(seat, note) or may_settle(seat, note)):
        raise NotAllowed
    note = lock_version(note, expected_version)
    if note.state in (HELD, OPEN):
        return note
    if note.state != from_state:
        raise NotPossibleNow(f"This note is {note.state}, not {from_state}.")
    return _moved(seat, note, OPEN, "note-opened-again")


def _moved(seat: Seat, note: Note, state: str, kind: str) -> Note:
    is_closed = state in (SETTLED, STET)
    note.state = state
    note.closed_by_id = seat.user.pk if is_closed else None
    note.closed_at = timezone.now() if is_closed else None
    note.state_before_left_alone = ""
    save_next_version(note, "state", "closed_by", "closed_at", "state_before_left_alone")
    write_event(board=seat.board, kind=kind, actor=seat.user, page=note.page, note=note.pk)
    return note
