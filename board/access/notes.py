from django.contrib.auth.models import AbstractBaseUser
from django.db.models import Q, QuerySet

from board.access.boards import access_by_board
from board.access.measured import measured_is_shown
from board.access.pages import own_or_opened
from board.access.seats import Need, Seat, require, shown_or_missing
from board.models import Note, Reply


def visible_notes(seat: Seat) -> QuerySet[Note]:
    notes = Note.objects.filter(board=seat.board).filter(~Q(state="held") | Q(author_id=seat.user.pk))
    if seat.sees_only_own_pages:
        notes = notes.filter(Q(page__isnull=True) | own_or_opened(seat, "page__"))
    return notes.filter(measured_is_shown()) if seat.measured_notes_wait else notes


def notes_in_comic(seat: Seat) -> QuerySet[Note]:
    """Without those on pages that were laid aside."""
    return visible_notes(seat).filter(page__laid_aside_at__isnull=True)


def access_note(user: AbstractBaseUser, pk: int, need: Need | None = None) -> tuple[Seat, Note]:
    note = Note.objects.select_related("board").filter(pk=pk).first()
    seat = access_by_board(user, note.board if note else None)
    note = shown_or_missing(visible_notes(seat).select_related("page", "panel", "author", "board").filter(pk=pk).first())
    require(seat, need is None or need(seat))
    return seat, note


def access_reply(user: AbstractBaseUser, pk: int) -> tuple[Seat, Reply]:
    reply = Reply.objects.filter(pk=pk).first()
    seat, _ = access_note(user, reply.note_id if reply else 0)
    return seat, shown_or_missing(reply)


def may_settle(seat: Seat, note: Note) -> bool:
    return seat.may_review or (note.author_id == seat.user.pk and seat.may_write)


def may_let_stand(seat: Seat, note: Note) -> bool:
    """Stet: whoever may settle; for a measured note, and for a classmate's, also who draws what it is about."""
    return may_settle(seat, note) or (bool(note.check_id or note.pen_name) and _draws_it(seat, note))


def may_answer(seat: Seat, note: Note) -> bool:
    return seat.may_review or _draws_it(seat, note)


def _draws_it(seat: Seat, note: Note) -> bool:
    return seat.may_draw if note.page is None else seat.draws(note.page)


def may_edit(seat: Seat, note: Note) -> bool:
    return note.author_id == seat.user.pk and seat.may_write
