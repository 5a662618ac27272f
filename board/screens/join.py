from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from board.screens.shell import name_of


def join(request: HttpRequest, to: str) -> HttpResponse:
    """Where an invitation to a class or a board leads. Its secret stands behind the #, and so in no log."""
    name = name_of(request.user) if request.user.is_authenticated else ""
    return render(request, "board/join.html", {"name": name, "to": to})
