"""The comic as spreads in reading order."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from board.access import Seat, notes_in_comic
from board.models import LastLook
from board.models.note import HELD
from board.screens.board_shell import on_board, script_context
from board.screens.next_deadline import next_deadlines, next_stage


@on_board
def wall(request: HttpRequest, seat: Seat) -> HttpResponse:
    looked = LastLook.objects.filter(user_id=seat.user.pk, board=seat.board, page__isnull=True)
    context = script_context(seat)
    deadline = next_deadlines([seat.board.pk]).get(seat.board.pk) if seat.board.is_assigned else None
    held = notes_in_comic(seat).filter(state=HELD).count() if seat.may_write else 0
    last_look = looked.values_list("event", flat=True).first()
    shell = context["shell"] | {"last_look": last_look, "next_stage": next_stage(deadline)}
    context |= {"shell": shell, "may": shell["may"], "deadline": deadline, "held": held}
    return render(request, "board/wall.html", context)
