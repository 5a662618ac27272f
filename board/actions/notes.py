"""Pinning, changing, holding and sending people's notes, and replies to any note."""

from collections.abc import Callable, Iterable
from typing import TypedDict, TypeVar, Unpack

from django.db import transaction
from django.utils import timezone

from board.access import Seat, may_edit
from board.actions.carrying import carry_on
from board.actions.events import write_event
from board.actions.row_locks import hold_pages
from board.actions.versions import lock_version, save_next_version
from board.drawn_lines import Lines, read_lines, region_around
from board.errors import NotAllowed, NotPossibleNow, NotValid
from board.models import Criterion, Note, NotePlace, Page, Panel, PanelShape, Reply, Revision
from board.models.note import BOARD, HELD, OPEN, PAGE, REGION, SPREAD
from board.models.revision import current_revision, ready_revision
from board.page_space import area, contains, middle_of, read_region

Read = TypeVar("Read")


class NoteChange(TypedDict, total=False):
    body: str
    tone: str
    region: dict | None
    lines: Lines


@transaction.atomic
def pin_note(
    *,
    seat: Seat,
    body: str,
    tone: str,
    page: Page | None = None,
    region: dict | None = None,
    scope: str = "",
    revision: Revision | None = None,
    is_held: bool = False,
    criterion: int | None = None,
    lines: Lines | None = None,
) -> Note:
    """On a region of a page, on a page, on its spread or on the board. A held note is its writer's alone until it is sent.

    Where lines are drawn and no region is named, the box around them is the region. Where no revision is named, it is one that was
    read: a picture still on its way may be refused, and would take the note's place with it.
    """
    lines = _read(read_lines, lines or [])
    region = region or (region_around(lines) if lines else None)
    scope = scope or (BOARD if page is None else REGION if region else PAGE)
    region = _region_for(scope, region)
    revision = (revision or ready_revision(page) or current_revision(page)) if page and scope == REGION else None
    note = Note.objects.create(
        board=seat.board, page=page if scope != BOARD else None, scope=scope, region=region, lines=lines, revision=revision,
        body=body, tone=tone, panel=panel_at(revision, region) if revision and region else None, author_id=seat.user.pk,
        criterion=_criterion(seat, criterion), state=HELD if is_held else OPEN, sent_at=None if is_held else timezone.now(),
    )
    _tell(seat, note, "note-held" if is_held else "note-pinned")
    if revision:
        carry_on(revision=revision)
    return note


def _criterion(seat: Seat, pk: int | None) -> Criterion | None:
    """One of the rubric that the board was assigned with."""
    if pk is None:
        return None
    criterion = Criterion.objects.filter(pk=pk, assignment__works__board=seat.board).first()
    if criterion is None:
        raise NotValid("There is no such criterion in the rubric of this assignment.")
    return criterion


def _region_for(scope: str, region: dict | None) -> dict | None:
    if scope not in (REGION, PAGE, SPREAD, BOARD):
        raise NotValid("A note is pinned on a region, a page, a spread or the board.")
    if (scope == REGION) != (region is not None):
        raise NotValid("A note on a region says where; a note on a whole page, spread or board does not.")
    return _read(read_region, region) if region is not None else None


def _read(reader: Callable[[object], Read], sent: object) -> Read:
    try:
        return reader(sent)
    except ValueError as error:
        raise NotValid(str(error)) from error


def panel_at(revision: Revision, region: dict) -> Panel | None:
    shape = shape_around(PanelShape.objects.filter(revision=revision).select_related("panel"), region)
    return shape.panel if shape else None


def shape_around(shapes: Iterable[PanelShape], region: dict) -> PanelShape | None:
    """The panel that holds the region's middle; an inset lies over the panel around it, so the smallest wins."""
    middle = middle_of(region)
    holding = [shape for shape in shapes if contains(shape.polygon, middle)]
    return min(holding, key=lambda shape: area(shape.polygon), default=None)


@transaction.atomic
def change_note(*, seat: Seat, note: Note, expected_version: int | None, **fields: Unpack[NoteChange]) -> Note:
    """Body, tone, region or lines of one's own note."""
    if not may_edit(seat, note):
        raise NotAllowed("Only who wrote a note can change it. Reply to it instead.")
    note = lock_version(note, expected_version)
    changed: dict[str, object] = {**fields}
    if "region" in fields or "lines" in fields:
        changed = {name: value for name, value in changed.items() if name not in ("region", "lines")}
        changed |= _drawn_at(note, fields)
    for name, value in changed.items():
        setattr(note, name, value)
    save_next_version(note, *changed)
    _tell(seat, note, "note-changed")
    if changed.keys() & {"region", "lines"} and note.revision:
        carry_on(revision=note.revision)
    return note


def _drawn_at(note: Note, fields: NoteChange) -> dict[str, object]:
    """The fields that change. On a later revision than the one it was pinned on, the note gets a place there, set by hand."""
    if note.scope != REGION and fields.get("lines"):
        raise NotValid("A note on a whole page, spread or board draws no lines. Pin another one where they belong.")
    here = current_revision(note.page) if note.page else None
    is_later = here is not None and note.scope == REGION and here.pk != note.revision_id
    place = NotePlace.objects.filter(note=note, revision=here).first() if is_later else None
    stands = place or note
    region = _region_for(note.scope, fields["region"]) if "region" in fields else stands.region
    lines = _read(read_lines, fields["lines"]) if "lines" in fields else stands.lines
    panel: dict[str, object] = {"panel": panel_at(here, region)} if here and region else {}
    if not is_later:
        return {"region": region, "lines": lines, **panel}
    by_hand = {"region": region, "lines": lines, "placed_by": "hand", "quality": 1.0}
    NotePlace.objects.update_or_create(note=note, revision=here, defaults=by_hand)
    return panel


@transaction.atomic
def drop_held_note(*, seat: Seat, note: Note, expected_version: int | None) -> None:
    """A note that was never sent can be dropped; one that others read stays."""
    if not may_edit(seat, note):
        raise NotAllowed("Only who wrote a note can drop it.")
    note = lock_version(note, expected_version)
    if note.state != HELD:
        raise NotPossibleNow("This note was sent; others may have read it. Settle it instead.")
    number = note.pk
    note.delete()
    write_event(board=seat.board, kind="note-dropped", actor=seat.user, page=note.page, only_for=seat.user, note=number)


@transaction.atomic
def send_held_notes(*, seat: Seat, notes: Iterable[int] | None = None) -> list[Note]:
    """All that this person holds on the board (or just these), sent together and told of once."""
    held = Note.objects.filter(board=seat.board, author_id=seat.user.pk, state=HELD)
    if notes is not None:
        held = held.filter(pk__in=list(notes))
    hold_pages(held.values_list("page", flat=True))
    sent = list(held.select_for_update(no_key=True).order_by("pk"))
    for note in sent:
        note.state, note.sent_at = OPEN, timezone.now()
        save_next_version(note, "state", "sent_at")
    pages = sorted({note.page_id for note in sent if note.page_id})
    for page in Page.objects.filter(pk__in=pages):
        on_page = [note.pk for note in sent if note.page_id == page.pk]
        write_event(board=seat.board, kind="notes-sent", actor=seat.user, page=page, notes=on_page)
    if on_board := [note.pk for note in sent if not note.page_id]:
        write_event(board=seat.board, kind="notes-sent", actor=seat.user, notes=on_board)
    return sent


@transaction.atomic
def reply_to_note(*, seat: Seat, note: Note, body: str) -> Reply:
    if note.state == HELD:
        raise NotPossibleNow("This note is still held; change its words instead.")
    reply = Reply.objects.create(note=note, author_id=seat.user.pk, body=body)
    _tell(seat, note, "note-replied", reply=reply.pk)
    return reply


def _tell(seat: Seat, note: Note, kind: str, **data: object) -> None:
    only_for = seat.user if note.state == HELD else None
    write_event(board=seat.board, kind=kind, actor=seat.user, page=note.page, only_for=only_for, note=note.pk, **data)
