"""Two revisions of a page over one another; which two, the address may say."""

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render

from board.access import access_page, signed_in
from board.errors import BoardError
from board.screens.shell import name_of, shell_of


@login_required
def compare(request: HttpRequest, page_id: int) -> HttpResponse:
    try:
        seat, page = access_page(signed_in(request), page_id)
    except BoardError as error:
        raise Http404(error.message) from error
    shell = shell_of(seat) | {"page": page.pk, "draws": seat.draws(page)}
    context = {"board": seat.board, "page": page, "shell": shell, "name": name_of(signed_in(request))}
    return render(request, "board/compare.html", context)
