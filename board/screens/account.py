from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from board.access import signed_in
from board.models import ApiToken
from board.screens.shell import full_name_of, name_of


@login_required
def account(request: HttpRequest) -> HttpResponse:
    """One's own name and password, and the tokens that programs have."""
    person = signed_in(request)
    tokens = ApiToken.objects.filter(user_id=person.pk).count()
    return render(request, "board/account.html", {"name": name_of(person), "own_name": full_name_of(person), "tokens": tokens})
