"""What is still to be done on a board, by page and panel: to be read on the screen, and to be printed and ticked off.

And all notes, closed ones too, where one is looked for.
"""

from collections.abc import Iterable
from math import inf
from typing import NamedTuple

from django.db.models import Prefetch, Q, QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone

from board.access import Seat, notes_in_comic
from board.models import Finding, Note, Reply
from board.models.astray import PANEL, Astray, astray_now
from board.models.note import ANSWERED, NOTE_STATES, OPEN, TONES
from board.models.revision import current_revisions
from board.screens.board_shell import on_board
from board.screens.shell import name_of
from board.screens.to_do_parts import ENOUGH, part_from, parts_of

TO_DO = ("must", "try", "ask")  # what is to be kept is done already
STATES = {"open": (OPEN,), "waiting": (OPEN, ANSWERED), "all": NOTE_STATES}
LONGEST_FIND = 100
GONE_LAST = inf
WHOSE = ("all", "drawn", "written")
SOURCES = ("all", "person", "measured")


@on_board
def to_do(request: HttpRequest, seat: Seat) -> HttpResponse:
    wish = wish_of(request)
    every = found(wanted(seat, wish), wish["find"])
    listed = [line for line in every if line.tone in wish["tones"]]
    parts = [] if wish["whole"] else parts_of((line.page for line in listed), ENOUGH)
    here = part_from(parts, wish["from"]) if len(parts) > 1 else None
    notes = Note.objects.filter(pk__in=[line.note for line in listed if here is None or line.page in here.pages])
    context = {
        "board": seat.board, "name": name_of(seat.user), "pages": by_page(with_what_is_told(notes)), "count": len(listed),
        "wish": wish, "tones": TONES, "now": timezone.now(), "draws": seat.may_draw, "left_out": len(every) - len(listed),
        "with_all": asked_again(request, tone=TONES), "here": here, "whole": asked_again(request, whole=["yes"]),
        "parts": [(part, asked_again(request, **{"from": [str(part.first)]})) for part in parts],
    }
    return render(request, "board/to_do.html", context)


def wish_of(request: HttpRequest) -> dict:
    """What is asked for; anything unknown is left out."""
    asked = request.GET
    return {
        "state": asked.get("state") if asked.get("state") in STATES else "open",
        "whose": asked.get("whose") if asked.get("whose") in WHOSE else "all",
        "source": asked.get("source") if asked.get("source") in SOURCES else "all",
        "find": asked.get("find", "").strip()[:LONGEST_FIND],
        "tones": [tone for tone in TONES if tone in asked.getlist("tone")] or list(TO_DO),
        "page": number_in(asked.get("page", "")), "from": number_in(asked.get("from", "")) or 0, "whole": "whole" in asked,
    }


def number_in(text: str) -> int | None:
    return int(text) if text.isdecimal() and len(text) < 10 else None


def asked_again(request: HttpRequest, **other: Iterable[str]) -> str:
    """The address of the same list, but for what is given."""
    asked = request.GET.copy()
    for name, values in other.items():
        asked.setlist(name, list(values))
    return f"?{asked.urlencode()}"


def wanted(seat: Seat, wish: dict) -> QuerySet[Note]:
    """In every tone."""
    notes = notes_in_comic(seat).filter(state__in=STATES[wish["state"]])
    if wish["whose"] == "drawn":
        notes = notes.filter(Q(page__drawn_by_id=seat.user.pk) | Q(page__isnull=True))
    elif wish["whose"] == "written":
        notes = notes.filter(author_id=seat.user.pk)
    if wish["source"] != "all":
        notes = notes.filter(check_id="") if wish["source"] == "person" else notes.exclude(check_id="")
    if wish["page"]:
        notes = notes.filter(page=wish["page"])
    return notes


class Line(NamedTuple):
    """What a note's place in the list hangs on. `page`: its number, 0 for the whole board."""

    note: int
    page: int
    tone: str


def found(notes: QuerySet[Note], words: str) -> list[Line]:
    lines = [Line(note, page or 0, tone) for note, page, tone in notes.values_list("pk", "page__number", "tone")]
    if not words:
        return lines
    replies = Reply.objects.filter(note__in=notes)
    saying = says(notes.values_list("pk", "body"), words) | says(replies.values_list("note", "body"), words)
    return [line for line in lines if line.note in saying]


def says(texts: Iterable[tuple[int, str]], words: str) -> set[int]:
    """Here and not in the database, of which some know no capitals but those of English."""
    return {note for note, text in texts if words.casefold() in text.casefold()}


def with_what_is_told(notes: QuerySet[Note]) -> QuerySet[Note]:
    replies = Prefetch("replies", Reply.objects.select_related("author"))
    findings = Prefetch("findings", Finding.objects.order_by("revision__number"))
    return notes.select_related("page", "panel", "author", "revision").prefetch_related(replies, findings)


def by_page(notes: Iterable[Note]) -> list[dict]:
    """Pages in order, the board itself first; in each, what is on the page as a whole, then its panels as they are read."""
    pages: dict[int | None, dict] = {}
    listed = sorted(notes, key=place_of)
    astray = astray_now(listed, current_revisions({note.page for note in listed if note.page}))
    for note in listed:
        page = pages.setdefault(note.page_id, {"page": note.page, "panels": []})
        order = order_of(note)
        if not page["panels"] or page["panels"][-1]["order"] != order:
            own_state = note.panel.own_state if note.panel and not note.panel.is_gone else ""
            page["panels"].append({"order": order, "is_gone": order == GONE_LAST, "own_state": own_state, "notes": []})
        page["panels"][-1]["notes"].append({"note": note, "figure": figure_of(note), "where": where_of(astray.get(note.pk), order)})
    return list(pages.values())


def where_of(astray: Astray | None, order: float) -> str:
    """On which other picture; that its panel is gone stands over it already."""
    return astray.words if astray and not (astray.why == PANEL and order == GONE_LAST) else ""


def order_of(note: Note) -> float:
    """Of its panel; 0 for the page as a whole. The number of a panel that is not on the page any more is another one's by now."""
    if note.panel is None:
        return 0
    return GONE_LAST if note.panel.is_gone else note.panel.order


def place_of(note: Note) -> tuple:
    page = note.page.number if note.page else 0
    return page, order_of(note), bool(note.check_id), TONES.index(note.tone), note.pk


def figure_of(note: Note) -> str:
    """What was measured last, on the page as it stands or on an earlier picture."""
    findings = list(note.findings.all()) if note.check_id else []
    since = ", not measured since" if note.not_measured else ""
    return f"{findings[-1].measured:.3g} {findings[-1].unit}{since}".replace(" °", "°") if findings else ""
