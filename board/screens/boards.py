from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from board.access import Seat, access_board, signed_in, visible_boards, visible_notes, visible_pages
from board.models.note import OPEN
from board.screens.shell import name_of


@login_required
def boards(request: HttpRequest) -> HttpResponse:
    """The comics that this person has a seat on."""
    seats = [access_board(signed_in(request), board.pk) for board in visible_boards(signed_in(request))]
    return render(request, "board/boards.html", {"rows": [row_of(seat) for seat in seats], "name": name_of(signed_in(request))})


def row_of(seat: Seat) -> dict:
    """Counts of what this person may see, and no more."""
    pages = visible_pages(seat)
    return {
        "board": seat.board,
        "roles": sorted(seat.roles),
        "pages": pages.count(),
        "finished": pages.filter(finished_at__isnull=False).count(),
        "handed_in": pages.filter(handed_in_at__isnull=False).count(),
        "open_notes": visible_notes(seat).filter(state=OPEN, check_id="").count(),
    }
