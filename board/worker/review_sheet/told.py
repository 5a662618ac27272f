"""What stands on a review sheet: gathered by the rights of the member who asked, and by nothing else."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from django.contrib.auth.models import AbstractBaseUser
from django.db.models import Prefetch

from board.access import Seat, notes_in_comic, shown_marks, visible_pages
from board.drawn_lines import Lines
from board.models import Criterion, Finding, Note, NotePlace, Page, PanelShape, Reply, Revision, Work
from board.models.astray import astray_now
from board.models.enrolment import aliases_on
from board.models.note import ANSWERED, HELD, OPEN, TONES
from board.models.review_sheet import ALL_NOTES
from board.models.revision import READY, chosen_tries, current_revisions
from board.page_space import bounds

WAITING = (HELD, OPEN, ANSWERED)
NOT_ON_A_PANEL = 0


@dataclass(frozen=True)
class ToldReply:
    name: str
    at: datetime
    body: str


@dataclass(frozen=True)
class ToldNote:
    """`letter` is what it is called by on the picture; "" for one that has no spot there."""

    letter: str
    tone: str
    state: str
    body: str
    name: str
    at: datetime
    panel: int  # its place in reading order, or NOT_ON_A_PANEL
    panel_state: str  # of a panel that does not move with its page: "sent back" or "handed in"
    region: Mapping[str, Any] | None
    scope: str
    finding: Finding | None
    lines: Lines
    replies: tuple[ToldReply, ...] = ()
    not_measured: str = ""
    where: str = ""  # on which other picture of the page, where it is not on this one
    criterion: str = ""  # of the rubric, that it is about

    @property
    def is_measured(self) -> bool:
        return self.finding is not None

    @property
    def is_open(self) -> bool:
        return self.state == OPEN


@dataclass(frozen=True)
class ToldCriterion:
    """A line of the rubric that the work was set with; `level` and `comment` where it is marked, and whoever asks may know."""

    title: str
    asks: str
    level: str = ""
    comment: str = ""


@dataclass(frozen=True)
class ToldPage:
    page: Page
    revision: Revision | None
    panels: Sequence[PanelShape]
    notes: Sequence[ToldNote]
    tries: Sequence[tuple[int, str]] = ()  # panels by order whose chosen try is a picture of its own, and the letter

    def panel_states(self) -> Counter[str]:
        """How many of its panels are "sent back" or "handed in", each on its own."""
        return Counter(shape.panel.own_state for shape in self.panels if shape.panel.own_state)

    def tally(self) -> Counter[str]:
        """Open notes by tone, and the measured ones."""
        return Counter("measured" if note.is_measured else note.tone for note in self.notes if note.is_open)


@dataclass(frozen=True)
class ToldBoard:
    title: str
    reading: str
    is_bound: bool
    drawn_by: str  # of an assignment: whose work it is
    asked_by: str
    at: datetime
    shows_all: bool
    pages: Sequence[ToldPage]
    notes: Sequence[ToldNote] = field(default_factory=tuple)  # on the board as a whole
    rubric: Sequence[ToldCriterion] = field(default_factory=tuple)

    def tally(self) -> Counter[str]:
        of_board = Counter(note.tone for note in self.notes if note.is_open)
        return sum((page.tally() for page in self.pages), of_board)

    def words(self) -> Iterator[str]:
        """All that people wrote on it."""
        yield self.title
        yield self.drawn_by
        yield self.asked_by
        for note in (*self.notes, *(note for page in self.pages for note in page.notes)):
            yield from (note.body, note.name, note.not_measured, note.criterion)
            yield from (text for reply in note.replies for text in (reply.name, reply.body))
        for one in self.rubric:
            yield from (one.title, one.asks, one.comment)


@dataclass(frozen=True)
class Names:
    """What is printed goes from hand to hand: in a class an alias stands there for the name."""

    aliases: Mapping[int, str]  # by person

    def of(self, user: AbstractBaseUser | None) -> str:
        if user is None:
            return "someone who left"
        return self.aliases.get(user.pk) or getattr(user, "get_full_name", lambda: "")() or user.get_username()


def gather(seat: Seat, notes_shown: str, at: datetime) -> ToldBoard:
    pages = list(visible_pages(seat).order_by("number"))
    current = {pk: one for pk, one in current_revisions(pages).items() if one.state == READY}
    notes = _notes_by_page(seat, notes_shown)
    places = _places(list(current.values()))
    astray = astray_now([note for of_page in notes.values() for note in of_page], current)
    where = {pk: one.words for pk, one in astray.items()}
    shapes: dict[int, list[PanelShape]] = {}
    for shape in PanelShape.objects.filter(revision__in=list(current.values())).select_related("panel"):
        shapes.setdefault(shape.revision_id, []).append(shape)
    tries: dict[int, list[tuple[int, str]]] = {}
    for one in chosen_tries([page.pk for page in pages]).values():
        tries.setdefault(one.page_id, []).append((one.panel.order if one.panel else 0, one.alternate))
    names = Names(aliases_on(seat.board))
    told = []
    for page in pages:
        revision = current.get(page.pk)
        panels = shapes.get(revision.pk, []) if revision else []
        told_notes = _told_notes(notes.get(page.pk, []), revision, panels, places, where, names)
        told.append(ToldPage(page, revision, panels, told_notes, sorted(tries.get(page.pk, []))))
    of_board = _told_notes(notes.get(None, []), None, [], {}, {}, names)
    board, work = seat.board, Work.objects.filter(board=seat.board).select_related("enrolment__user").first()
    return ToldBoard(board.title, board.reading, board.is_bound, work.enrolment.shown_name if work else "", names.of(seat.user), at,
                     notes_shown == ALL_NOTES, told, of_board, rubric_of(seat))


def rubric_of(seat: Seat) -> list[ToldCriterion]:
    """Nothing on a board that belongs to no assignment."""
    marks = {mark.criterion_id: mark for mark in shown_marks(seat)}
    criteria = Criterion.objects.filter(assignment__works__board=seat.board)
    return [
        ToldCriterion(one.title, one.asks, *((mark.word, mark.comment) if (mark := marks.get(one.pk)) else ())) for one in criteria
    ]


def _notes_by_page(seat: Seat, notes_shown: str) -> dict[int | None, list[Note]]:
    notes = notes_in_comic(seat) if notes_shown == ALL_NOTES else notes_in_comic(seat).filter(state__in=WAITING)
    replies = Prefetch("replies", Reply.objects.select_related("author"))
    findings = Prefetch("findings", Finding.objects.select_related("revision"))
    by_page: dict[int | None, list[Note]] = {}
    for note in notes.select_related("author", "revision", "criterion").prefetch_related(replies, findings):
        by_page.setdefault(note.page_id, []).append(note)
    return by_page


def _places(revisions: Sequence[Revision]) -> dict[tuple[int, int], NotePlace]:
    return {(place.note_id, place.revision_id): place for place in NotePlace.objects.filter(revision__in=revisions)}


def _told_notes(
    notes: Sequence[Note], revision: Revision | None, panels: Sequence[PanelShape], places: Mapping[tuple[int, int], NotePlace],
    where: Mapping[int, str], names: Names,
) -> list[ToldNote]:
    """In reading order: of the page, then panel by panel, each from the top."""
    orders = {shape.panel_id: shape.order for shape in panels}
    states = {shape.order: shape.panel.own_state for shape in panels}
    rows = []
    for note in notes:
        stands: Note | NotePlace | None = None
        if revision is not None:
            stands = note if note.revision_id == revision.pk else places.get((note.pk, revision.pk))
        rows.append((note, orders.get(note.panel_id or 0, NOT_ON_A_PANEL), stands if stands and stands.region else None))
    rows.sort(key=lambda row: (row[1], TONES.index(row[0].tone) if row[2] is None else -1, _top(row[2]), row[0].pk))
    letters = iter(range(len(rows)))
    return [
        _told(note, panel, states.get(panel, ""), stands, letter(next(letters)) if stands else "", where.get(note.pk, ""), names)
        for note, panel, stands in rows
    ]


def _top(stands: Note | NotePlace | None) -> float:
    region = stands.region if stands else None
    if region is None:
        return 0.0
    return region["point"][1] if "point" in region else bounds(region["polygon"])[1]


def _told(
    note: Note, panel: int, panel_state: str, stands: Note | NotePlace | None, called: str, where: str, names: Names
) -> ToldNote:
    finding = max(note.findings.all(), key=lambda one: one.revision.number, default=None)
    name = "" if note.is_measured else note.pen_name or names.of(note.author)
    replies = tuple(ToldReply(names.of(reply.author), reply.created_at, reply.body) for reply in note.replies.all())
    at, region, lines = note.sent_at or note.created_at, stands.region if stands else None, stands.lines if stands else []
    return ToldNote(called, note.tone, note.state, note.body, name, at, panel, panel_state, region, note.scope,
                    finding if note.is_measured else None, lines, replies, note.not_measured, where,
                    note.criterion.title if note.criterion else "")


def letter(place: int) -> str:
    """a, b, … z, aa, ab, …"""
    letters = ""
    while place >= 0:
        letters, place = chr(ord("a") + place % 26) + letters, place // 26 - 1
    return letters
