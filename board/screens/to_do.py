"""What is still to be done on a board, by page and panel: to be read on the screen, and to be printed and ticked off.

And all notes, closed ones too, where one is looked for.
"""

from collections.abc import Iterable
from math import inf

from django.db.models import Prefetch, Q, QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone

from board.access import Seat, notes_in_comic
from board.models import Finding, Note, Reply
from board.models.note import ANSWERED, NOTE_STATES, OPEN, TONES
from board.screens.board_shell import on_board
from board.screens.shell import name_of

TO_DO = ("must", "try", "ask")  # what is to be kept is done already
STATES = {"open": (OPEN,), "waiting": (OPEN, ANSWERED), "all": NOTE_STATES}
LONGEST_FIND = 100
GONE_LAST = inf
WHOSE = ("all", "drawn", "written")
SOURCES = ("all", "person", "measured")


@on_board
def to_do(request: HttpRequest, seat: Seat) -> HttpResponse:
    wish = wish_of(request)
    every = [note for note in wanted(seat, wish) if says(note, wish["find"])]
    notes = [note for note in every if note.tone in wish["tones"]]
    context = {
        "board": seat.board, "name": name_of(seat.user), "pages": by_page(notes), "count": len(notes), "wish": wish, "tones": TONES,
        "now": timezone.now(), "draws": seat.may_draw, "left_out": len(every) - len(notes), "with_all": with_all_tones(request),
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
        "page": int(asked["page"]) if asked.get("page", "").isdecimal() and len(asked["page"]) < 10 else None,
    }


def with_all_tones(request: HttpRequest) -> str:
    """The address of the same list with the notes that its tones leave out."""
    asked = request.GET.copy()
    asked.setlist("tone", TONES)
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
    replies = Prefetch("replies", Reply.objects.select_related("author"))
    findings = Prefetch("findings", Finding.objects.order_by("revision__number"))
    return notes.select_related("page", "panel", "author").prefetch_related(replies, findings)


def says(note: Note, words: str) -> bool:
    """In it or in a reply. Here and not in the database, of which some know no capitals but those of English."""
    return any(words.casefold() in text.casefold() for text in (note.body, *(reply.body for reply in note.replies.all())))


def by_page(notes: Iterable[Note]) -> list[dict]:
    """Pages in order, the board itself first; in each, what is on the page as a whole, then its panels as they are read."""
    pages: dict[int | None, dict] = {}
    for note in sorted(notes, key=place_of):
        page = pages.setdefault(note.page_id, {"page": note.page, "panels": []})
        order = order_of(note)
        if not page["panels"] or page["panels"][-1]["order"] != order:
            is_sent_back = bool(note.panel and note.panel.sent_back_to and not note.panel.is_gone)
            page["panels"].append({"order": order, "is_gone": order == GONE_LAST, "is_sent_back": is_sent_back, "notes": []})
        page["panels"][-1]["notes"].append({"note": note, "figure": figure_of(note)})
    return list(pages.values())


def order_of(note: Note) -> float:
    """Of its panel; 0 for the page as a whole. The number of a panel that is not on the page any more is another one's by now."""
    if note.panel is None:
        return 0
    return GONE_LAST if note.panel.is_gone else note.panel.order


def place_of(note: Note) -> tuple:
    page = note.page.number if note.page else 0
    return page, order_of(note), bool(note.check_id), TONES.index(note.tone), note.pk


def figure_of(note: Note) -> str:
    """What was measured last."""
    findings = list(note.findings.all()) if note.check_id else []
    return f"{findings[-1].measured:.3g} {findings[-1].unit}".replace(" °", "°") if findings else ""
