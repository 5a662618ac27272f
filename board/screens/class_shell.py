"""What the screens of a class carry for their ES modules, and how they answer where nothing is to be seen."""

from collections.abc import Callable
from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone

from board.access import ClassSeat, signed_in
from board.errors import BoardError
from board.screens.shell import name_of
from board.stages.deadlines import today_at_the_latest

Reach = Callable[..., tuple[ClassSeat, Any]]


def class_screen(template: str, reach: Reach, noun: str) -> Callable[[HttpRequest, int], HttpResponse]:
    """A screen about one row of a class: fetched with permission, shown with its number; the rest is read by the module."""

    @login_required
    def screen(request: HttpRequest, pk: int) -> HttpResponse:
        try:
            seat, row = reach(signed_in(request), pk)
        except BoardError as error:
            raise Http404(error.message) from error
        context = {
            "school_class": seat.school_class, "row": row, "instructs": seat.instructs, "name": name_of(seat.user),
            "enrolment": seat.enrolment, "today": today_at_the_latest(timezone.now()), "is_over": is_over(seat),
            "shell": {**class_shell(seat), noun: row.pk},
        }
        return render(request, template, context)

    return screen


def class_shell(seat: ClassSeat) -> dict[str, Any]:
    return {
        "me": {"id": seat.user.pk, "name": name_of(seat.user)}, "enrolment": seat.enrolment.pk, "instructs": seat.instructs,
        "class": {"id": seat.school_class.pk, "title": seat.school_class.title, "is_over": is_over(seat)},
    }


def is_over(seat: ClassSeat) -> bool:
    return seat.school_class.is_over(timezone.now())
