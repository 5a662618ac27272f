"""If-Match (RFC 9110, compared strongly) and Idempotency-Key."""

import re
from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from api.urls import urlpatterns
from board.actions.kept_answers import ABANDONED_AFTER, open_answer
from board.actions.revisions import receive_revision
from board.models import KeptAnswer, Note, Revision
from tests.api.class_route_table import CLASS_TABLE
from tests.api.route_table import arguments_of, payload_of, routes
from tests.pictures import png, upload


@pytest.fixture
def note_url(world) -> str:
    return f"/api/v1/notes/{world.artists.note.pk}"


@pytest.mark.parametrize(
    ("if_match", "status"),
    [(None, 428), ('"1"', 200), ('"2"', 412), ('W/"1"', 412), ('W/"2"', 412), ('"7", "1"', 200), ("*", 200), ("1", 400),
     ('"1" "1"', 400), ("", 400)],
)
def test_a_write_names_the_version_it_was_made_on(note_url, client_of, if_match, status):
    headers = {} if if_match is None else {"HTTP_IF_MATCH": if_match}
    answer = client_of("editor").patch(note_url, {"body": "New words."}, **headers)
    assert answer.status_code == status
    if status == 412:
        assert ("Someone changed this note" in answer.json()["detail"]) != ("is a weak tag" in answer.json()["detail"])
        assert ("is a weak tag" in answer.json()["detail"]) == (if_match == 'W/"1"')


VIEWS = {row.name: row.callback.view_class for row in urlpatterns}
GUARDED = [route for route in routes() if route not in CLASS_TABLE and route[1] in getattr(VIEWS[route[0]], "versioned", ())]

# Whose DELETE takes nothing back in this world, and leaves the version as it was.
UNTOUCHED = ("page-laid-aside", "note-answer", "note-settlement", "note-stet")


@pytest.mark.parametrize(("name", "method"), GUARDED, ids=lambda value: value)
def test_a_guarded_write_says_whose_etag_it_asks_for_and_answers_with_the_next(world, client_of, name, method):
    on = world.artists
    if name.endswith("chosen-alternate"):
        receive_revision(seat=world.cast.seat("artist"), page=on.page, file=upload(), stage="thumbnail", alternate="B",
                         panel=on.panel if name.startswith("panel") else None)
    arguments = (on.held.pk,) if (name, method) == ("note", "DELETE") else arguments_of(name)(world, on)
    url, payload = reverse(f"api:{name}", args=arguments), payload_of(name, method)(world, on)
    client = client_of("editor" if name.startswith("note") or name in ("page-laid-aside", "panel-stage-moves") else "artist")
    ask = getattr(client, method.lower())
    told = ask(url, payload)
    assert told.status_code == 428
    read_at = re.search(r"the ETag of this [\w ]+, which GET (\S+) answers with", told.json()["detail"])[1]
    tag = client.get(read_at)["ETag"]
    done = ask(url, payload, headers={"If-Match": tag})
    assert done.status_code < 300, done.content
    after = client.get(read_at)
    if after.status_code == 404:
        assert "ETag" not in done
    else:
        assert done["ETag"] == after["ETag"]
        assert done["ETag"] != tag or name in UNTOUCHED
        stale = ask(url, payload, headers={"If-Match": '"99"'})
        assert (stale.status_code, stale.json()["current"]) == (412, after["ETag"])


def test_who_wrote_panels_on_a_page_that_changed_is_told_of_the_page(world, client_of):
    url = f"/api/v1/revisions/{world.artists.revision.pk}/panels"
    answer = client_of("artist").put(url, {"panels": []}, headers={"If-Match": '"99"'})
    assert (answer.status_code, answer.json()["detail"]) == (
        412, "Someone changed this page since you read it. Read the page again, then send your change.")


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
    assert client_of("editor").post(url, body, HTTP_IDEMPOTENCY_KEY="k1").status_code == 201


def test_while_the_first_request_runs_the_second_is_told_to_wait(world, client_of):
    url = f"/api/v1/pages/{world.cast.page.pk}/notes"
    body = {"region": {"point": [0.5, 0.5]}, "tone": "try", "body": "Once."}
    assert client_of("editor").post(url, body, HTTP_IDEMPOTENCY_KEY="k1").status_code == 201
    KeptAnswer.objects.update(status=None, body=None)
    assert client_of("editor").post(url, body, HTTP_IDEMPOTENCY_KEY="k1").status_code == 409
    assert Note.objects.filter(body="Once.").count() == 1


def test_a_request_that_nobody_finished_does_not_hold_its_key_for_ever(cast):
    first = open_answer(user=cast.editor, key="k1", request_digest="a")
    KeptAnswer.objects.filter(pk=first.pk).update(created_at=timezone.now() - ABANDONED_AFTER - timedelta(seconds=1))
    assert open_answer(user=cast.editor, key="k1", request_digest="a").pk != first.pk


@pytest.mark.parametrize("key", ["", "k" * 201, "kluß"])
def test_a_key_that_cannot_be_kept_is_refused(cast, client_of, key):
    assert client_of("owner").post("/api/v1/boards", {"title": "Salt"}, headers={"Idempotency-Key": key}).status_code == 400


def test_the_answer_given_again_names_its_place_and_version_too(world, client_of):
    url = f"/api/v1/pages/{world.cast.page.pk}/notes"
    body = {"region": {"point": [0.5, 0.5]}, "tone": "try", "body": "Once."}
    first, second = (client_of("editor").post(url, body, HTTP_IDEMPOTENCY_KEY="k1") for _ in range(2))
    assert first["Location"] == second["Location"] == f"/api/v1/notes/{first.json()['id']}"
    assert first["ETag"] == second["ETag"] == '"1"'


def test_json_is_the_same_however_it_is_written(world, client_of):
    url = f"/api/v1/boards/{world.cast.board.pk}/notes"
    texts = ['{"tone": "try", "body": "Once."}', '{"body":"Once.","tone":"try"}']
    answers = [
        client_of("editor").post(url, text, content_type="application/json", HTTP_IDEMPOTENCY_KEY="k1") for text in texts
    ]
    assert [answer.status_code for answer in answers] == [201, 201]
    assert Note.objects.filter(body="Once.").count() == 1


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
