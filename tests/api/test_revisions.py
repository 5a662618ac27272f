import hashlib

import pytest

from board.models import Job, Revision
from tests.pictures import png, upload


def revisions_of(page) -> str:
    return f"/api/v1/pages/{page.pk}/revisions"


def send(client, page, data: bytes | None = None, **fields):
    return client.post(revisions_of(page), {"image": upload(data), "stage": "thumbnail", **fields}, format="multipart")


def test_an_upload_answers_at_once_and_queues_its_intake(cast, client_of):
    answer = send(client_of("artist"), cast.page, minutes_spent=25)
    assert answer.status_code == 201
    row = answer.json()
    assert (row["state"], row["number"], row["stage"], row["minutes_spent"]) == ("received", 1, "thumbnail", 25)
    assert Job.objects.get(revision=row["id"]).kind == "intake"


def test_the_file_is_kept_untouched_under_its_hash(cast, client_of):
    data = png(shade=77)
    row = send(client_of("artist"), cast.page, data).json()
    assert row["sha256"] == hashlib.sha256(data).hexdigest()
    answer = client_of("reader").get(row["file"])
    assert b"".join(answer.streaming_content) == data
    assert answer["X-Content-Type-Options"] == "nosniff"
    assert answer["Content-Disposition"].startswith("attachment")


def test_the_same_bytes_are_kept_once_for_two_revisions(cast, client_of):
    first, second = (send(client_of("artist"), cast.page).json() for _ in range(2))
    assert (first["number"], second["number"]) == (1, 2)
    assert Revision.objects.get(pk=first["id"]).picture_id == Revision.objects.get(pk=second["id"]).picture_id


@pytest.mark.parametrize(("name", "status"), [("reader", 403), ("editor", 403), ("student", 404)])
def test_only_who_draws_the_page_uploads(cast, client_of, name, status):
    assert send(client_of(name), cast.page).status_code == status
    assert Revision.objects.count() == 0


def test_an_outsider_is_told_that_nothing_is_there(cast, client_of):
    assert send(client_of("outsider"), cast.page).status_code == 404


@pytest.mark.parametrize(
    "fields", [{"stage": "ink"}, {"alternate": "beta"}, {"minutes_spent": -3}, {"panel": 99}, {"panel": "first"}]
)
def test_fields_that_make_no_sense_are_refused(cast, client_of, fields):
    assert send(client_of("artist"), cast.page, **fields).status_code == 400
    assert Revision.objects.count() == 0


def test_a_form_without_a_picture_is_refused(cast, client_of):
    answer = client_of("artist").post(revisions_of(cast.page), {"stage": "thumbnail"}, format="multipart")
    assert answer.status_code == 400
    assert "image" in answer.json()["errors"]


def test_a_revision_tells_how_far_its_checks_are(world, client_of):
    row = client_of("reader").get(f"/api/v1/revisions/{world.artists.revision.pk}").json()
    assert row["state"] == "ready"
    states = {check["check"]: check["state"] for check in row["checks"]}
    assert states == {"panels": "done", "perspective": "queued", "heights": "queued", "proportions": "queued",
                      "reuse": "queued"}
    assert row["panels"][0]["order"] == 1


def test_a_rendition_is_an_image_that_may_be_kept(world, client_of):
    answer = client_of("reader").get(f"/api/v1/revisions/{world.artists.revision.pk}/renditions/400")
    assert answer["Content-Type"] == "image/webp"
    assert "immutable" in answer["Cache-Control"] and "private" in answer["Cache-Control"]
    assert client_of("outsider").get(f"/api/v1/revisions/{world.artists.revision.pk}/renditions/400").status_code == 404
    assert client_of("reader").get(f"/api/v1/revisions/{world.artists.revision.pk}/renditions/1234").status_code == 404


def test_a_withdrawn_revision_is_kept_for_those_who_may_bring_it_back(world, client_of):
    url = f"/api/v1/revisions/{world.artists.revision.pk}"
    assert client_of("artist").put(f"{url}/withdrawal").status_code == 200
    assert client_of("reader").get(url).status_code == 404
    assert client_of("artist").get(url).json()["withdrawn_at"]
    # PUT says how it shall be, and so it is.
    assert client_of("artist").put(f"{url}/withdrawal").status_code == 200
    assert client_of("artist").delete(f"{url}/withdrawal").status_code == 200
    assert client_of("reader").get(url).status_code == 200


def test_another_try_gets_a_letter_and_moves_nothing(world, client_of):
    row = send(client_of("artist"), world.cast.page, png(shade=12), alternate="B").json()
    page = client_of("artist").get(f"/api/v1/pages/{world.cast.page.pk}").json()
    assert row["alternate"] == "B"
    assert page["alternates"] == ["A", "B"]
    assert page["current_revision"]["id"] == world.artists.revision.pk


def test_a_picture_ahead_of_its_stage_is_told_until_the_page_is_there(world, client_of):
    own = f"/api/v1/pages/{world.cast.page.pk}"
    client = client_of("artist")
    assert client.get(own).json()["kept_ahead"] == []
    pencil = send(client, world.cast.page, png(shade=12), stage="pencil").json()
    send(client, world.cast.page, png(shade=13), stage="final", alternate="B")
    page = client.get(own).json()
    assert (page["stage"], page["kept_ahead"]) == ("thumbnail", ["pencil"])
    assert page["current_revision"]["id"] == world.artists.revision.pk
    client.put(f"/api/v1/revisions/{pencil['id']}/withdrawal")
    assert client.get(own).json()["kept_ahead"] == []
