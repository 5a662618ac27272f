from io import StringIO

import pytest
from django.contrib.auth import get_user_model
from django.core.management import CommandError, call_command


@pytest.fixture
def add(db, monkeypatch):
    def add(*arguments: str, password: str = "a-long-oar-in-the-reeds") -> str:
        monkeypatch.setattr("sys.stdin", StringIO(f"{password}\n"))
        out = StringIO()
        call_command("add_person", *arguments, stdout=out)
        return out.getvalue()

    return add


def test_an_account_is_made(add):
    assert add("wim", "--name", "Wim Tarrow") == "wim can sign in.\n"
    person = get_user_model().objects.get(username="wim")
    assert person.check_password("a-long-oar-in-the-reeds") and person.get_full_name() == "Wim Tarrow"
    assert not person.is_staff


@pytest.mark.parametrize(("username", "password", "words"), [
    ("a b", "a-long-oar-in-the-reeds", "without spaces"), ("wim", "short", "too short"),
])
def test_what_will_not_do_is_said(add, username, password, words):
    with pytest.raises(CommandError, match=words):
        add(username, password=password)
    assert not get_user_model().objects.exists()


def test_nobody_is_made_twice(add):
    add("wim")
    with pytest.raises(CommandError, match="taken"):
        add("Wim", password="another-long-oar-in-the-reeds")
    assert get_user_model().objects.get().check_password("a-long-oar-in-the-reeds")
