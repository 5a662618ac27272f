from io import StringIO

import pytest
from django.core.management import CommandError, call_command
from django.test import Client
from rest_framework.test import APIClient

from board.actions.tokens import issue_token

NEW = "a-long-oar-in-the-reeds"


@pytest.fixture
def set_password(cast, monkeypatch):
    def set_password(username: str, password: str = NEW) -> None:
        monkeypatch.setattr("sys.stdin", StringIO(f"{password}\n"))
        call_command("set_password", username, stdout=StringIO())

    return set_password


def test_whoever_had_the_old_one_reads_no_further(cast, client_of, set_password):
    session, program = client_of("artist"), APIClient()
    program.credentials(HTTP_AUTHORIZATION=f"Bearer {issue_token(user=cast.artist)}")
    assert [one.get("/api/v1/me").status_code for one in (session, program)] == [200, 200]
    set_password("artist")
    assert [one.get("/api/v1/me").status_code for one in (session, program)] == [401, 401]
    assert Client().login(username="artist", password=NEW)


@pytest.mark.parametrize(("username", "password", "words"), [("artist", "short", "too short"), ("nobody", NEW, "Nobody here")])
def test_what_will_not_do_is_said(set_password, username, password, words):
    with pytest.raises(CommandError, match=words):
        set_password(username, password)
