"""Who left signs in no more, and what they ran is run by somebody again."""

from datetime import timedelta
from io import StringIO

import pytest
from django.core.management import CommandError, call_command
from django.utils import timezone
from rest_framework.test import APIClient

from board.actions.boards import create_board
from board.actions.classes import create_class
from board.actions.enrolments import enrol_person
from board.actions.tokens import issue_token
from board.models import Invitation, Member, SeatInvitation
from board.models.enrolment import INSTRUCTOR


def run(*words: str) -> str:
    out = StringIO()
    call_command(*words, stdout=out)
    return out.getvalue()


def test_who_left_is_signed_out_and_their_links_and_tokens_hold_no_more(cast, client_of):
    session, program = client_of("editor"), APIClient()
    program.credentials(HTTP_AUTHORIZATION=f"Bearer {issue_token(user=cast.editor)}")
    ends = timezone.now() + timedelta(days=3)
    school_class = create_class(user=cast.editor, title="Ink", ends_on=ends.date())
    SeatInvitation.objects.create(board=cast.board, roles=["artist"], expires_at=ends, made_by=cast.editor)
    for username in ("", "owl"):
        Invitation.objects.create(school_class=school_class, username=username, expires_at=ends, made_by=cast.editor)
    run("close_account", "editor")
    assert [one.get("/api/v1/me").status_code for one in (session, program)] == [401, 401]
    assert not SeatInvitation.objects.exists() and [one.username for one in Invitation.objects.all()] == ["owl"]
    run("close_account", "editor", "--reopen")
    assert client_of("editor").get("/api/v1/me").status_code == 200 and program.get("/api/v1/me").status_code == 401


def test_what_nobody_runs_any_more_is_told_and_handed_over(cast):
    board = create_board(user=cast.editor, title="Salt")
    school_class = create_class(user=cast.editor, title="Ink", ends_on=timezone.localdate())
    told = run("close_account", "editor")
    assert f"board {board.pk}, Salt" in told and f"class {school_class.pk}, Ink" in told
    assert "is editor of Salt" in run("hand_over", "artist", "--board", str(board.pk))
    assert "instructs Ink" in run("hand_over", "artist", "--class", str(school_class.pk))
    assert "Salt" not in (told := run("close_account", "reader")) and "Ink" not in told


@pytest.mark.parametrize(("words", "said"), [
    (("editor", "--board", "0"), "There is no board 0"), (("nobody-here", "--board", "1"), "Nobody here"),
    (("editor", "--class", "0"), "There is no class 0"),
])
def test_what_cannot_be_handed_over_is_said(cast, words, said):
    with pytest.raises(CommandError, match=said):
        call_command("hand_over", *words, stdout=StringIO())


def test_an_account_that_is_closed_is_nobody_who_runs_a_board_or_a_class(cast, client_of):
    board = create_board(user=cast.editor, title="Salt")
    Member.objects.create(board=board, user=cast.artist, roles=["editor"])
    school_class = create_class(user=cast.editor, title="Ink", ends_on=timezone.localdate())
    enrol_person(school_class=school_class, user=cast.artist, place=INSTRUCTOR)
    run("close_account", "artist")
    own = Member.objects.get(board=board, user=cast.editor)
    assert client_of("editor").delete(f"/api/v1/members/{own.pk}").status_code == 409
    place = school_class.enrolments.get(user=cast.editor)
    assert client_of("editor").post(f"/api/v1/enrolments/{place.pk}/deletion").status_code == 409


def test_who_never_ran_a_board_may_leave_it_when_nobody_does(cast, client_of):
    board = create_board(user=cast.editor, title="Salt")
    own = Member.objects.create(board=board, user=cast.artist, roles=["artist"])
    run("close_account", "editor")
    assert client_of("artist").delete(f"/api/v1/members/{own.pk}").status_code == 204
