from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render

from board.access import access_board, signed_in
from board.errors import BoardError
from board.models import LastLook
from board.screens.shell import name_of, shell_of


@login_required
def wall(request: HttpRequest, board_id: int) -> HttpResponse:
    """The comic as spreads in reading order."""
    try:
        seat = access_board(signed_in(request), board_id)
    except BoardError as error:
        raise Http404(error.message) from error
    looked = LastLook.objects.filter(user_id=seat.user.pk, board=seat.board, page__isnull=True)
    shell = shell_of(seat) | {"last_look": looked.values_list("event", flat=True).first()}
    context = {"board": seat.board, "shell": shell, "may": shell["may"], "name": name_of(seat.user)}
    return render(request, "board/wall.html", context)
