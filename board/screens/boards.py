from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping
from itertools import groupby
from operator import itemgetter
from typing import Any

from django.contrib.auth.decorators import login_required
from django.contrib.auth.models import AbstractBaseUser
from django.db.models import Count, Exists, F, OuterRef, Q, QuerySet, Window
from django.db.models.functions import RowNumber
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from board.access import Seat, counted_for, counted_notes_for, pages_with_news, seats_of, signed_in, visible_boards, visible_classes
from board.models import Note, Page, Panel
from board.models.note import OPEN
from board.models.revision import current_revisions
from board.screens.next_deadline import next_deadlines
from board.screens.shell import name_of

# A board is known again by how it begins.
FIRST_PAGES = 5
SMALLEST_PX = 400
UNFINISHED = Q(finished_at__isnull=True)
SENT_BACK = Panel.objects.filter(page=OuterRef("pk"), is_gone=False).exclude(sent_back_to="")
# A panel that was sent back waits on its own, wherever its page is.
TO_DRAW = UNFINISHED & Q(handed_in_at__isnull=True) | Exists(SENT_BACK.filter(handed_in_at__isnull=True))
TO_REVIEW = UNFINISHED & Q(handed_in_at__isnull=False) | Exists(SENT_BACK.filter(handed_in_at__isnull=False))


@login_required
def boards(request: HttpRequest) -> HttpResponse:
    """The comics that this person has a seat on, and the ways to their classes."""
    user = signed_in(request)
    rows = rows_for(user)
    at_hand, put_away = ([row for row in rows if bool(row["board"].put_away_at) is away] for away in (False, True))
    found = {"rows": at_hand, "put_away": put_away, "classes": visible_classes(user).distinct(), "name": name_of(user)}
    return render(request, "board/boards.html", found)


def rows_for(user: AbstractBaseUser) -> list[dict]:
    """Board by board what this person may see of it, and no more; in as many queries for many boards as for one."""
    boards = list(visible_boards(user))
    seats = seats_of(user, boards)
    pages = Page.objects.filter(counted_for(user, seats.values()))
    notes = Note.objects.filter(counted_notes_for(user, seats.values()), state=OPEN, check_id="").exclude(tone="keep")
    pages_of = page_counts(pages, waiting_for(user, seats.values()))
    open_notes = dict(notes.order_by().values_list("board").annotate(Count("pk")))
    pictures = first_pictures(pages)
    news = pages_with_news(user, seats.values())
    deadlines = next_deadlines(seats)
    return [
        {
            **pages_of[board.pk],
            "board": board,
            "roles": [with_article(role) for role in sorted(seats[board.pk].roles)],
            "open_notes": open_notes.get(board.pk, 0),
            "news": news[board.pk],
            "deadline": deadlines.get(board.pk),
            "pictures": pictures.get(board.pk, []),
        }
        for board in boards
    ]


def page_counts(pages: QuerySet[Page], are_waiting: Q) -> Mapping[int, Mapping[str, int]]:
    """Board id -> how many of its pages there are, and how many wait for this person."""
    counted = {
        "pages": Count("pk"), "finished": Count("finished_at"), "handed_in": Count("handed_in_at"),
        "waiting": Count("pk", filter=are_waiting),
    }
    rows: Iterable[Any] = pages.order_by().values("board").annotate(**counted)
    return defaultdict(lambda: dict.fromkeys(counted, 0), {row["board"]: row for row in rows})


def waiting_for(user: AbstractBaseUser, seats: Iterable[Seat]) -> Q:
    """Which pages wait for this person, as `waitsForMe` of `static/js/screens/wall_facts.js` has it."""
    seats = list(seats)

    def on(is_meant: Callable[[Seat], bool]) -> Q:
        return Q(board__in=[seat.board.pk for seat in seats if is_meant(seat)])

    anybodys = Q(drawn_by__isnull=True) & on(lambda seat: seat.may_review or seat.may_run_board)
    drawing = TO_DRAW & on(lambda seat: seat.may_draw) & (Q(drawn_by_id=user.pk) | anybodys)
    return drawing | TO_REVIEW & on(lambda seat: seat.may_review)


def with_article(role: str) -> str:
    return f"an {role}" if role[0] in "aeiou" else f"a {role}"


def first_pictures(pages: QuerySet[Page]) -> dict[int, list[dict]]:
    """Board id -> its first pages as they are now, so far as they are drawn, each {"revision": id, "rendition": its smallest}."""
    place = Window(RowNumber(), partition_by=F("board"), order_by=["number", "pk"])
    first = list(pages.annotate(place=place).filter(place__lte=FIRST_PAGES).order_by("board", "place"))
    current = current_revisions(first)
    drawn = [(page.board_id, current[page.pk]) for page in first if page.pk in current]
    return {
        board: [{"revision": revision.pk, "rendition": rendition} for _, revision in own
                for rendition in revision.picture.renditions.all() if rendition.nominal_px == SMALLEST_PX]
        for board, own in groupby(drawn, key=itemgetter(0))
    }
