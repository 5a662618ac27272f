from itertools import groupby
from operator import itemgetter

from django.contrib.auth.decorators import login_required
from django.contrib.auth.models import AbstractBaseUser
from django.db.models import Count, F, QuerySet, Window
from django.db.models.functions import RowNumber
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from board.access import counted_for, counted_notes_for, seats_of, signed_in, visible_boards, visible_classes
from board.models import Note, Page
from board.models.note import OPEN
from board.models.revision import current_revisions
from board.screens.shell import name_of

# A board is known again by how it begins.
FIRST_PAGES = 5
SMALLEST_PX = 400
NO_PAGES = {"pages": 0, "finished": 0, "handed_in": 0}


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
    notes = Note.objects.filter(counted_notes_for(user, seats.values()), state=OPEN, check_id="")
    counts = pages.order_by().values("board").annotate(
        pages=Count("pk"), finished=Count("finished_at"), handed_in=Count("handed_in_at"))
    by_board = {row["board"]: row for row in counts}
    open_notes = dict(notes.order_by().values_list("board").annotate(Count("pk")))
    pictures = first_pictures(pages)
    return [
        {
            **by_board.get(board.pk, NO_PAGES),
            "board": board,
            "roles": [with_article(role) for role in sorted(seats[board.pk].roles)],
            "open_notes": open_notes.get(board.pk, 0),
            "pictures": pictures.get(board.pk, []),
        }
        for board in boards
    ]


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
