"""If-Match (RFC 9110, compared strongly) and Idempotency-Key."""

import pytest

from board.models import Note, Revision
from tests.pictures import png, upload


@pytest.fixture
def note_url(world) -> str:
    return f"/api/v1/notes/{world.artists.note.pk}"


@pytest.mark.parametrize(
    ("if_match", "status"),
    [(None, 428), ('"1"', 200), ('"2"', 412), ('W/"1"', 412), ('"7", "1"', 200), ("*", 200), ("rubbish", 400)],
)
def test_a_write_names_the_version_it_was_made_on(note_url, client_of, if_match, status):
    headers = {} if if_match is None else {"HTTP_IF_MATCH": if_match}
    answer = client_of("editor").patch(note_url, {"body": "New words."}, **headers)
    assert answer.status_code in ((status, 412) if if_match == "rubbish" else (status,))


def test_of_two_who_read_the_same_version_the_second_is_told(note_url, client_of):
    etag = client_of("editor").get(note_url)["ETag"]
    assert client_of("editor").put(f"{note_url}/settlement", HTTP_IF_MATCH=etag).status_code == 200
    assert client_of("editor").put(f"{note_url}/stet", HTTP_IF_MATCH=etag).status_code == 412


def test_sent_twice_with_one_key_a_note_is_there_once(world, client_of):
    url = f"/api/v1/pages/{world.cast.page.pk}/notes"
    body = {"region": {"point": [0.5, 0.5]}, "tone": "try", "body": "Once."}
    first, second = (client_of("editor").post(url, body, HTTP_IDEMPOTENCY_KEY="k1") for _ in range(2))
    assert (first.status_code, second.status_code) == (201, 201)
    assert first.json()["id"] == second.json()["id"]
    assert Note.objects.filter(body="Once.").count() == 1


def test_the_same_key_with_another_body_is_refused(world, client_of):
    url = f"/api/v1/pages/{world.cast.page.pk}/notes"
    body = {"region": {"point": [0.5, 0.5]}, "tone": "try", "body": "Once."}
    client_of("editor").post(url, body, HTTP_IDEMPOTENCY_KEY="k1")
    answer = client_of("editor").post(url, body | {"body": "Twice."}, HTTP_IDEMPOTENCY_KEY="k1")
    assert answer.status_code == 422
    assert Note.objects.filter(body="Twice.").count() == 0


def test_a_key_is_ones_own(world, client_of):
    url = f"/api/v1/pages/{world.cast.page.pk}/notes"
    for name in ("editor", "owner"):
        body = {"region": {"point": [0.5, 0.5]}, "tone": "try", "body": f"By {name}."}
        assert client_of(name).post(url, body, HTTP_IDEMPOTENCY_KEY="k1").status_code == 201


def test_a_key_whose_request_failed_may_be_used_again(world, client_of):
    url = f"/api/v1/pages/{world.cast.page.pk}/notes"
    assert client_of("editor").post(url, {"tone": "try", "body": ""}, HTTP_IDEMPOTENCY_KEY="k1").status_code == 400
    body = {"region": {"point": [0.5, 0.5]}, "tone": "try", "body": "Now."}
    assert client_of("editor").post(url, body, HTTP_IDEMPOTENCY_KEY="k1").status_code in (201, 422)


@pytest.mark.parametrize(("shade", "status"), [(50, 201), (51, 422)])
def test_an_upload_sent_again_after_a_broken_line_arrives_once(cast, client_of, shade, status):
    url = f"/api/v1/pages/{cast.page.pk}/revisions"
    answers = [
        client_of("artist").post(
            url, {"image": upload(png(shade=one)), "stage": "thumbnail"}, format="multipart", HTTP_IDEMPOTENCY_KEY="up"
        )
        for one in (50, shade)
    ]
    assert answers[1].status_code == status
    assert Revision.objects.count() == 1
