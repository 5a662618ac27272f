"""What the screens of a whole board share: who has no seat on it finds none."""

from collections.abc import Callable
from functools import wraps

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render

from board.access import Seat, access_board, signed_in
from board.errors import BoardError
from board.screens.shell import name_of, shell_of

Screen = Callable[[HttpRequest, int], HttpResponse]


def on_board(show: Callable[[HttpRequest, Seat], HttpResponse]) -> Screen:
    @login_required
    @wraps(show)
    def screen(request: HttpRequest, board_id: int) -> HttpResponse:
        try:
            seat = access_board(signed_in(request), board_id)
        except BoardError as error:
            raise Http404(error.message) from error
        return show(request, seat)

    return screen


def drawn_by_script(template: str) -> Screen:
    """One whose module reads by the API all that it shows."""
    return on_board(lambda request, seat: render(request, template, script_context(seat)))


def script_context(seat: Seat) -> dict:
    return {"board": seat.board, "shell": shell_of(seat), "name": name_of(seat.user)}
