from django.contrib.auth.decorators import login_required
from django.db.models import Count, Q
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone

from board.access import signed_in, visible_classes
from board.models.enrolment import STUDENT
from board.screens.shell import name_of
from board.stages.deadlines import today_at_the_latest


@login_required
def classes(request: HttpRequest) -> HttpResponse:
    """The classes that this person instructs, or is a student of."""
    user = signed_in(request)
    rows = visible_classes(user).distinct().annotate(
        students=Count("enrolments", filter=Q(enrolments__place=STUDENT), distinct=True),
        set_work=Count("assignments", distinct=True),
        instructed=Count("enrolments", filter=Q(enrolments__user_id=user.pk) & ~Q(enrolments__place=STUDENT), distinct=True),
    )
    today = today_at_the_latest(timezone.now())
    return render(request, "board/classes.html", {"rows": rows, "name": name_of(user), "today": today})
