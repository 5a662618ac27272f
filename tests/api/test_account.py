"""One's own name and password."""

import pytest
from django.contrib.auth.models import AbstractBaseUser
from rest_framework.test import APIClient
from rest_framework.throttling import ScopedRateThrottle

from board.models import ApiToken

OLD, NEW = "a-long-oar-in-the-reeds", "eleven-herons-on-a-weir"


@pytest.fixture
def artist(cast) -> AbstractBaseUser:
    cast.artist.set_password(OLD)
    cast.artist.save(update_fields=["password"])
    return cast.artist


def signed_in(password: str = OLD) -> APIClient:
    client = APIClient()
    assert client.login(username="artist", password=password)
    return client


def change(client: APIClient, old: str = OLD, new: str = NEW):
    return client.put("/api/v1/me/password", {"old": old, "new": new})


def test_the_new_password_signs_in_and_the_old_one_does_not(artist):
    assert change(signed_in()).status_code == 204
    assert not APIClient().login(username="artist", password=OLD)
    signed_in(NEW)


def test_this_session_stays_and_every_other_ends(artist):
    here, there = signed_in(), signed_in()
    change(here)
    assert here.get("/api/v1/me").status_code == 200
    assert there.get("/api/v1/me").status_code == 401


def test_tokens_are_taken_back(artist):
    token = APIClient().post("/api/v1/tokens", {"username": "artist", "password": OLD}).json()["token"]
    script = APIClient()
    script.credentials(HTTP_AUTHORIZATION=f"Bearer {token}")
    assert change(script).status_code == 204
    assert script.get("/api/v1/me").status_code == 401
    assert not ApiToken.objects.exists()


@pytest.mark.parametrize(("old", "new", "status", "words"), [
    ("a-guess", NEW, 403, "This is not your password."),
    (OLD, "short", 400, "too short"),
    (OLD, "password", 400, "too common"),
    (OLD, "artist99", 400, "too similar"),
    (OLD, "", 400, "blank"),
])
def test_what_will_not_do_is_said_and_changes_nothing(artist, old, new, status, words):
    answer = change(signed_in(), old, new)
    assert answer.status_code == status
    assert words in answer.content.decode()
    signed_in(OLD)


def test_guessing_the_old_one_is_slowed_down(artist, monkeypatch):
    monkeypatch.setattr(ScopedRateThrottle, "THROTTLE_RATES", {"sign-in": "3/min"})
    client = signed_in()
    assert [change(client, old="a-guess").status_code for _ in range(4)] == [403, 403, 403, 429]


def test_a_name_is_as_others_read_it_at_once(cast, client_of):
    answer = client_of("artist").patch("/api/v1/me", {"name": " Wilhelmina van der Mole "})
    assert answer.json()["name"] == "Wilhelmina van der Mole"
    people = client_of("reader").get(f"/api/v1/boards/{cast.board.pk}/members").json()["results"]
    assert "Wilhelmina van der Mole" in {one["user"]["name"] for one in people}


def test_without_a_name_others_read_the_username(client_of):
    assert client_of("artist").patch("/api/v1/me", {"name": ""}).json()["name"] == "artist"
    assert client_of("artist").patch("/api/v1/me", {"name": "n" * 151}).status_code == 400


def test_the_screen_tells_ones_own_account_to_oneself_alone(artist):
    APIClient().post("/api/v1/tokens", {"username": "artist", "password": OLD})
    page = signed_in().get("/account").content.decode()
    assert 'data-name="Artist"' in page and 'data-tokens="1"' in page
    assert APIClient().get("/account").status_code == 302
