"""The pictures that panels are drawn from."""

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render

from board.access import access_board, signed_in
from board.errors import BoardError
from board.screens.shell import name_of, shell_of


@login_required
def references(request: HttpRequest, board_id: int) -> HttpResponse:
    try:
        seat = access_board(signed_in(request), board_id)
    except BoardError as error:
        raise Http404(error.message) from error
    context = {"board": seat.board, "shell": shell_of(seat), "name": name_of(seat.user)}
    return render(request, "board/references.html", context)
