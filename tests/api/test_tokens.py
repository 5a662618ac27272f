import pytest
from rest_framework.test import APIClient

from board.models import ApiToken


@pytest.fixture
def token(cast) -> str:
    cast.artist.set_password("long-enough-for-a-test")
    cast.artist.save(update_fields=["password"])
    answer = APIClient().post("/api/v1/tokens", {"username": "artist", "password": "long-enough-for-a-test"})
    assert answer.status_code in (200, 201)
    return answer.json()["token"]


def bearer(token: str) -> APIClient:
    client = APIClient()
    client.credentials(HTTP_AUTHORIZATION=f"Bearer {token}")
    return client


def test_a_token_speaks_for_its_person(cast, token):
    assert bearer(token).get("/api/v1/me").json()["username"] == "artist"


def test_only_its_hash_is_kept(cast, token):
    assert not ApiToken.objects.filter(sha256__contains=token).exists()


def test_a_wrong_password_gets_none(cast):
    assert APIClient().post("/api/v1/tokens", {"username": "artist", "password": "wrong"}).status_code in (400, 401, 403)


def test_a_wrong_token_speaks_for_nobody(cast, token):
    answer = bearer("nonsense").get("/api/v1/me")
    assert answer.status_code == 401
    assert answer["WWW-Authenticate"].startswith("Bearer")


def test_tokens_are_revoked_together(cast, token):
    assert bearer(token).delete("/api/v1/tokens").status_code == 204
    assert bearer(token).get("/api/v1/me").status_code == 401


def test_guessing_passwords_is_slowed_down(cast, settings, monkeypatch):
    from rest_framework.throttling import ScopedRateThrottle, SimpleRateThrottle

    for throttle in (SimpleRateThrottle, ScopedRateThrottle):
        monkeypatch.setattr(throttle, "THROTTLE_RATES", {"sign-in": "3/min"})
    answers = [APIClient().post("/api/v1/tokens", {"username": "artist", "password": "guess"}).status_code for _ in range(5)]
    assert answers[-1] == 429
