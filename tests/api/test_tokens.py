import pytest
from rest_framework.test import APIClient

from board.models import ApiToken, KeptAnswer


@pytest.fixture
def token(cast) -> str:
    cast.artist.set_password("long-enough-for-a-test")
    cast.artist.save(update_fields=["password"])
    answer = APIClient().post("/api/v1/tokens", {"username": "artist", "password": "long-enough-for-a-test"})
    assert answer.status_code == 201
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
    assert APIClient().post("/api/v1/tokens", {"username": "artist", "password": "wrong"}).status_code == 400


def test_a_wrong_token_speaks_for_nobody(cast, token):
    answer = bearer("nonsense").get("/api/v1/me")
    assert answer.status_code == 401
    assert answer["WWW-Authenticate"].startswith("Bearer")


@pytest.mark.parametrize(("sent", "words"), [
    ("Token abc", "`Authorization: Bearer TOKEN`, not as it came"), ("abc", "`Authorization: Bearer TOKEN`, not as it came"),
    ("", "`Authorization: Bearer TOKEN`; POST /api/v1/tokens gives one"), ("Bearer", "one word after “Bearer”"),
    ("Bearer a b", "one word after “Bearer”"), ("Bearer abc", "not known, or it was taken back"),
])
def test_who_sends_a_token_in_another_way_is_told_how(cast, sent, words):
    answer = APIClient().get("/api/v1/me", headers={"Authorization": sent} if sent else {})
    assert (answer.status_code, answer["WWW-Authenticate"]) == (401, 'Bearer realm="api"')
    assert words in answer.json()["detail"]


def test_what_is_meant_for_a_server_before_this_one_keeps_no_session_out(cast, client_of):
    assert client_of("artist").get("/api/v1/me", headers={"Authorization": "Basic b2FyOm9hcg=="}).status_code == 200


def test_tokens_are_revoked_together(cast, token):
    assert bearer(token).delete("/api/v1/tokens").status_code == 204
    assert bearer(token).get("/api/v1/me").status_code == 401


def test_guessing_passwords_is_slowed_down(cast, settings):
    settings.SIGN_IN_RATE = "3/min"
    body = {"username": "artist", "password": "guess"}
    # Whatever a client claims of where it comes from.
    answers = [APIClient().post("/api/v1/tokens", body, headers={"X-Forwarded-For": f"192.0.2.{n}"}) for n in range(4)]
    assert [answer.status_code for answer in answers] == [400, 400, 400, 429]
    assert 0 < int(answers[-1]["Retry-After"]) <= 61
    assert answers[-1]["Content-Type"] == "application/problem+json"


def test_asked_twice_with_one_key_it_is_one_token_that_is_kept_nowhere(cast):
    cast.artist.set_password("long-enough-for-a-test")
    cast.artist.save(update_fields=["password"])
    body = {"username": "artist", "password": "long-enough-for-a-test"}
    tokens = [APIClient().post("/api/v1/tokens", body, headers={"Idempotency-Key": "t1"}).json()["token"] for _ in range(2)]
    assert tokens[0] == tokens[1]
    assert ApiToken.objects.count() == 1
    assert tokens[0] not in str(KeptAnswer.objects.get().body)
    assert bearer(tokens[0]).get("/api/v1/me").status_code == 200


def test_whose_account_was_closed_is_let_in_no_more(cast, token):
    cast.artist.is_active = False
    cast.artist.save(update_fields=["is_active"])
    assert bearer(token).get("/api/v1/me").status_code == 401
