"""Where the `type` of a problem document leads: what it means and what to do. Open to everyone, as the schema is."""

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import path

from api.problem_types import problem_types
from board.screens.shell import name_of


def problem_page(request: HttpRequest, name: str) -> HttpResponse:
    kind = problem_types().get(name)
    if kind is None:
        raise Http404("There is no such problem.")
    me = name_of(request.user) if request.user.is_authenticated else ""
    return render(request, "board/problem.html", {"kind": kind, "name": me})


urlpatterns = [path("<slug:name>", problem_page, name="problem")]
