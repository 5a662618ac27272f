"""The only permission code. `access_*` fetches a row for a person, or raises NotFound (not theirs to see) or NotAllowed.

A `Seat` is one person on one board, with what their roles allow.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import TypeVar

from django.contrib.auth.models import AbstractBaseUser
from django.db.models import Q, QuerySet
from django.http import HttpRequest

from board.errors import NotAllowed, NotFound
from board.models import (
    Board,
    Character,
    Event,
    Figure,
    Job,
    Member,
    ModelSheet,
    Note,
    Page,
    Panel,
    Reference,
    Reply,
    Revision,
    Sheet,
    Underlay,
)
from board.stages.move_rules import DRAWERS, REVIEWERS


@dataclass(frozen=True)
class Seat:
    user: AbstractBaseUser
    board: Board
    roles: frozenset[str]

    @property
    def may_write(self) -> bool:
        return bool(self.roles - {"reader"})

    @property
    def may_draw(self) -> bool:
        return bool(self.roles & DRAWERS)

    @property
    def may_review(self) -> bool:
        return bool(self.roles & REVIEWERS)

    @property
    def may_run_board(self) -> bool:
        """Pages, people and format: those who answer for the comic."""
        return bool(self.roles & {"editor", "instructor", "artist"})

    @property
    def may_change_members(self) -> bool:
        return self.may_review

    @property
    def sees_only_own_pages(self) -> bool:
        return self.roles <= {"student"}

    def draws(self, page: Page) -> bool:
        return "artist" in self.roles or ("student" in self.roles and page.drawn_by_id == self.user.pk)


Need = Callable[[Seat], bool]
Row = TypeVar("Row")


def signed_in(request: HttpRequest) -> AbstractBaseUser:
    """Who sends this request. Raises NotAllowed where nobody is signed in."""
    if not isinstance(request.user, AbstractBaseUser):
        raise NotAllowed("Sign in first.")
    return request.user


def seat_on(user: AbstractBaseUser, board: Board) -> Seat | None:
    member = Member.objects.filter(board=board, user_id=user.pk).first()
    return Seat(user, board, member.role_set) if member and member.roles else None


def seats_of(user: AbstractBaseUser, boards: Iterable[Board]) -> dict[int, Seat]:
    """Board id -> the person's seat there, for many boards at once."""
    by_id = {board.pk: board for board in boards}
    members = Member.objects.filter(user_id=user.pk, board__in=by_id)
    return {member.board_id: Seat(user, by_id[member.board_id], member.role_set) for member in members}


def require(seat: Seat, allowed: bool) -> Seat:
    if not allowed:
        raise NotAllowed
    return seat


# ---------------------------------------------------------------- what a person may see


def visible_boards(user: AbstractBaseUser) -> QuerySet[Board]:
    return Board.objects.filter(members__user_id=user.pk)


def visible_pages(seat: Seat) -> QuerySet[Page]:
    pages = Page.objects.filter(board=seat.board)
    return pages.filter(own_or_opened(seat)) if seat.sees_only_own_pages else pages


def own_or_opened(seat: Seat, prefix: str = "") -> Q:
    return Q(**{f"{prefix}drawn_by_id": seat.user.pk}) | Q(**{f"{prefix}is_open_to_students": True})


def counted_for(user: AbstractBaseUser, seats: Iterable[Seat], to_page: str = "") -> Q:
    """What this person sees over several boards, as one condition on pages, or on rows that lead `to_page`."""
    seats = list(seats)
    whole = [seat.board.pk for seat in seats if not seat.sees_only_own_pages]
    partly = Q(board__in=[seat.board.pk for seat in seats if seat.sees_only_own_pages])
    own = Q(**{f"{to_page}drawn_by_id": user.pk}) | Q(**{f"{to_page}is_open_to_students": True})
    return Q(board__in=whole) | partly & (own | Q(page__isnull=True) if to_page else own)


def visible_notes(seat: Seat) -> QuerySet[Note]:
    notes = Note.objects.filter(board=seat.board).filter(~Q(state="held") | Q(author_id=seat.user.pk))
    if seat.sees_only_own_pages:
        notes = notes.filter(Q(page__isnull=True) | own_or_opened(seat, "page__"))
    return notes


def visible_revisions(seat: Seat) -> QuerySet[Revision]:
    """A withdrawn revision is kept, and shown only to those who may bring it back."""
    revisions = Revision.objects.filter(page__board=seat.board)
    if seat.sees_only_own_pages:
        revisions = revisions.filter(own_or_opened(seat, "page__"))
    if not seat.may_run_board:
        revisions = revisions.filter(Q(withdrawn_at__isnull=True) | Q(page__drawn_by_id=seat.user.pk))
    return revisions


def visible_events(seat: Seat) -> QuerySet[Event]:
    events = Event.objects.filter(board=seat.board).filter(Q(only_for__isnull=True) | Q(only_for_id=seat.user.pk))
    if seat.sees_only_own_pages:
        events = events.filter(Q(page__isnull=True) | own_or_opened(seat, "page__"))
    return events


def visible_sheets(seat: Seat) -> QuerySet[Sheet]:
    """A sheet shows several pages at once, so a student sees only their own."""
    sheets = Sheet.objects.filter(board=seat.board)
    return sheets.filter(uploaded_by_id=seat.user.pk) if seat.sees_only_own_pages else sheets


def visible_jobs(seat: Seat) -> QuerySet[Job]:
    jobs = Job.objects.filter(board=seat.board)
    if seat.sees_only_own_pages:
        jobs = jobs.filter(Q(revision__page__drawn_by_id=seat.user.pk) | Q(revision__page__is_open_to_students=True))
    return jobs


# ---------------------------------------------------------------- one row, for one person


def access_board(user: AbstractBaseUser, pk: int, need: Need | None = None) -> Seat:
    board = Board.objects.filter(pk=pk).first()
    seat = seat_on(user, board) if board else None
    if seat is None:
        raise NotFound
    return require(seat, need is None or need(seat))


def _access(user: AbstractBaseUser, board_id: int | None, need: Need | None) -> Seat:
    if board_id is None:
        raise NotFound
    return access_board(user, board_id, need)


def access_member(user: AbstractBaseUser, pk: int, need: Need | None = None) -> tuple[Seat, Member]:
    member = Member.objects.select_related("user", "board").filter(pk=pk).first()
    seat = _access(user, member.board_id if member else None, need)
    return seat, _shown(member)


def access_page(user: AbstractBaseUser, pk: int, need: Need | None = None) -> tuple[Seat, Page]:
    page = Page.objects.select_related("board").filter(pk=pk).first()
    seat = _access(user, page.board_id if page else None, None)
    page = _shown(visible_pages(seat).filter(pk=pk).first())
    require(seat, need is None or need(seat))
    return seat, page


def access_page_to_draw(user: AbstractBaseUser, pk: int) -> tuple[Seat, Page]:
    seat, page = access_page(user, pk)
    require(seat, seat.draws(page))
    return seat, page


def access_revision(user: AbstractBaseUser, pk: int, need: Need | None = None) -> tuple[Seat, Revision]:
    revision = Revision.objects.select_related("page").filter(pk=pk).first()
    seat = _access(user, revision.page.board_id if revision else None, None)
    revision = _shown(visible_revisions(seat).select_related("page", "picture", "uploaded_by").filter(pk=pk).first())
    require(seat, need is None or need(seat))
    return seat, revision


def access_panel(user: AbstractBaseUser, pk: int, need: Need | None = None) -> tuple[Seat, Panel]:
    panel = Panel.objects.select_related("page").filter(pk=pk).first()
    seat, page = access_page(user, panel.page_id if panel else 0, need)
    shown = _shown(panel)
    shown.page = page
    return seat, shown


def access_note(user: AbstractBaseUser, pk: int, need: Need | None = None) -> tuple[Seat, Note]:
    note = Note.objects.filter(pk=pk).first()
    seat = _access(user, note.board_id if note else None, None)
    note = _shown(visible_notes(seat).select_related("page", "panel", "author", "board").filter(pk=pk).first())
    require(seat, need is None or need(seat))
    return seat, note


def access_reply(user: AbstractBaseUser, pk: int) -> tuple[Seat, Reply]:
    reply = Reply.objects.filter(pk=pk).first()
    seat, _ = access_note(user, reply.note_id if reply else 0)
    return seat, _shown(reply)


def access_sheet(user: AbstractBaseUser, pk: int, need: Need | None = None) -> tuple[Seat, Sheet]:
    sheet = Sheet.objects.filter(pk=pk).first()
    seat = _access(user, sheet.board_id if sheet else None, None)
    sheet = _shown(visible_sheets(seat).select_related("board", "picture", "uploaded_by").filter(pk=pk).first())
    require(seat, need is None or need(seat))
    return seat, sheet


def access_reference(user: AbstractBaseUser, pk: int, need: Need | None = None) -> tuple[Seat, Reference]:
    reference = Reference.objects.select_related("board", "picture").filter(pk=pk).first()
    seat = _access(user, reference.board_id if reference else None, need)
    return seat, _shown(reference)


def access_character(user: AbstractBaseUser, pk: int, need: Need | None = None) -> tuple[Seat, Character]:
    character = Character.objects.select_related("board").filter(pk=pk).first()
    seat = _access(user, character.board_id if character else None, need)
    return seat, _shown(character)


def access_model_sheet(user: AbstractBaseUser, pk: int, need: Need | None = None) -> tuple[Seat, ModelSheet]:
    sheet = ModelSheet.objects.select_related("character__board", "reference__picture").filter(pk=pk).first()
    seat = _access(user, sheet.character.board_id if sheet else None, need)
    return seat, _shown(sheet)


def access_figure(user: AbstractBaseUser, pk: int, need: Need | None = None) -> tuple[Seat, Figure]:
    """Who sees the page sees the figures that were marked on it."""
    figure = Figure.objects.select_related("character").filter(pk=pk).first()
    seat, page = access_page(user, figure.page_id if figure else 0, need)
    shown = _shown(figure)
    shown.page = page
    return seat, shown


def access_underlay(user: AbstractBaseUser, pk: int, need: Need | None = None) -> tuple[Seat, Underlay]:
    """Who sees the revision sees what was made to draw on it."""
    underlay = Underlay.objects.select_related("requested_by").filter(pk=pk).first()
    seat, _ = access_revision(user, underlay.revision_id if underlay else 0, need)
    return seat, _shown(underlay)


def access_job(user: AbstractBaseUser, pk: int, need: Need | None = None) -> tuple[Seat, Job]:
    job = Job.objects.filter(pk=pk).first()
    seat = _access(user, job.board_id if job else None, None)
    job = _shown(visible_jobs(seat).filter(pk=pk).first())
    require(seat, need is None or need(seat))
    return seat, job


def _shown(row: Row | None) -> Row:
    if row is None:
        raise NotFound
    return row


# ---------------------------------------------------------------- what a person may do with one row


def may_draw_on(seat: Seat, page: Page) -> bool:
    return seat.draws(page)


def may_work_on(seat: Seat, row: Page | Panel | Revision | Figure) -> bool:
    """Its words, panels, stills, alternates and revisions: those who answer for the comic, and a student on their own page."""
    return seat.may_run_board or seat.draws(row if isinstance(row, Page) else row.page)


def may_remove(seat: Seat, reference: Reference) -> bool:
    return seat.may_run_board or (reference.uploaded_by_id == seat.user.pk and seat.may_write)


def may_settle(seat: Seat, note: Note) -> bool:
    return seat.may_review or (note.author_id == seat.user.pk and seat.may_write)


def may_let_stand(seat: Seat, note: Note) -> bool:
    """Stet: whoever may settle; for a measured note also who draws the page."""
    return may_settle(seat, note) or (note.is_measured and note.page is not None and seat.draws(note.page))


def may_answer(seat: Seat, note: Note) -> bool:
    return seat.may_review or (note.page is None and seat.may_draw) or (note.page is not None and seat.draws(note.page))


def may_edit(seat: Seat, note: Note) -> bool:
    return note.author_id == seat.user.pk and seat.may_write
