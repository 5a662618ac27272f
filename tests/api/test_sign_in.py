"""Guessing passwords is slow, wherever they are asked for; who signs in with the right one is not held up."""

from datetime import timedelta

import pytest
from django.db.models import F
from django.test import Client
from rest_framework.test import APIClient

from board.models import SignInFailure

RIGHT = "long-enough-for-a-test"


@pytest.fixture
def people(cast, settings):
    settings.SIGN_IN_RATE = "3/min"
    for person in (cast.artist, cast.owner):
        person.set_password(RIGHT)
        person.save(update_fields=["password"])
    return cast


def sign_in(name: str = "artist", password: str = "a guess", at: str = "/sign-in", **sent: object):
    return Client().post(at, {"username": name, "password": password}, **sent)


def guess(times: int, **sent: object) -> None:
    for _ in range(times):
        assert sign_in(**sent).status_code == 200


def test_after_some_wrong_ones_the_right_one_is_not_looked_at_for_a_while(people):
    guess(3)
    answer = sign_in(password=RIGHT)
    assert answer.status_code == 429 and 0 < int(answer["Retry-After"]) <= 60
    assert f"too many wrong tries. Try again in {answer['Retry-After']} s." in answer.content.decode()
    assert sign_in(name="Artist").status_code == 429  # as another would write it
    assert APIClient().post("/api/v1/tokens", {"username": "artist", "password": RIGHT}).status_code == 429
    SignInFailure.objects.update(at=F("at") - timedelta(minutes=1))
    assert sign_in(password=RIGHT).status_code == 302


def test_another_name_and_another_address_are_let_in(people):
    guess(3)
    assert sign_in(name="owner", password=RIGHT).status_code == 302
    assert sign_in(password=RIGHT, REMOTE_ADDR="192.0.2.7").status_code == 302


def test_the_right_ones_are_not_counted(people):
    assert [sign_in(password=RIGHT).status_code for _ in range(5)] == [302] * 5


def test_the_admin_form_counts_with_it(people):
    guess(3, at="/admin/login/")
    assert "too many wrong tries" in sign_in(password=RIGHT, at="/admin/login/").content.decode()
    assert sign_in(password=RIGHT).status_code == 429


@pytest.mark.parametrize(("guesses", "others"), [
    ([{"name": f"nobody-{n}"} for n in range(30)], {"name": "owner"}),  # one from each name that there might be
    ([{"REMOTE_ADDR": f"192.0.2.{n}"} for n in range(30)], {}),  # one name from many addresses
])
def test_guessing_in_breadth_ends_too(people, guesses, others):
    for one in guesses:
        guess(1, **one)
    assert sign_in(password=RIGHT, **others).status_code == 429


def test_only_our_own_proxy_is_believed_where_one_comes_from(people, settings):
    settings.PROXIES = 1
    for n in range(3):
        guess(1, headers={"X-Forwarded-For": f"192.0.2.{n}, 198.51.100.4"})
    assert sign_in(password=RIGHT, headers={"X-Forwarded-For": "192.0.2.9, 198.51.100.4"}).status_code == 429
    assert sign_in(password=RIGHT, headers={"X-Forwarded-For": "198.51.100.5"}).status_code == 302


def test_what_counts_no_more_is_not_kept_and_no_name_ever(people):
    guess(2)
    SignInFailure.objects.update(at=F("at") - timedelta(minutes=2))
    guess(1)
    assert SignInFailure.objects.count() == 1
    assert "artist" not in str(SignInFailure.objects.values())
