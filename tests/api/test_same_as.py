"""Panels declared the same as earlier ones."""

import pytest

from board.actions.measuring import queue_ready_checks
from board.models import Job, Panel, SameAs


@pytest.fixture
def earlier(world) -> Panel:
    return Panel.objects.create(page=world.cast.page, order=9)


@pytest.fixture
def url(world) -> str:
    return f"/api/v1/panels/{world.artists.panel.pk}"


def put(client, url, model):
    return client.put(f"{url}/same-as/{model.pk}", HTTP_IF_MATCH=client.get(url)["ETag"])


def test_a_pair_is_declared_on_the_version_that_was_read(url, earlier, client_of):
    artist = client_of("artist")
    assert artist.put(f"{url}/same-as/{earlier.pk}").status_code == 428
    assert put(artist, url, earlier).json()["state"] == "declared"
    assert artist.put(f"{url}/same-as/{earlier.pk}", HTTP_IF_MATCH='"1"').status_code == 412
    (row,) = client_of("reader").get(f"{url}/same-as").json()["results"]
    assert (row["model"], row["order"], row["state"]) == (earlier.pk, 9, "declared")


def test_a_panel_has_one_model_and_never_itself_or_one_that_goes_back_to_it(world, url, earlier, client_of):
    artist, other = client_of("artist"), Panel.objects.create(page=world.cast.page, order=10)
    put(artist, url, other)
    put(artist, url, earlier)
    assert SameAs.objects.get(panel=world.artists.panel).model == earlier
    assert put(artist, url, world.artists.panel).status_code == 400
    assert put(artist, f"/api/v1/panels/{earlier.pk}", world.artists.panel).status_code == 400


def test_what_is_taken_back_stays_refused(url, earlier, client_of):
    artist = client_of("artist")
    put(artist, url, earlier)
    assert artist.delete(f"{url}/same-as/{earlier.pk}", HTTP_IF_MATCH=artist.get(url)["ETag"]).status_code == 204
    assert [row["state"] for row in artist.get(f"{url}/same-as").json()["results"]] == ["refused"]


def test_the_check_is_queued_once_a_pair_is_declared(world, url, client_of):
    revision = world.artists.revision
    revision.refresh_from_db()
    queue_ready_checks(revision=revision)
    Job.objects.filter(revision=revision).update(state="done")
    assert not Job.objects.filter(revision=revision, check_id="same-as").exists()
    model = world.students.panel
    assert put(client_of("artist"), url, model).status_code == 200
    inputs = Job.objects.get(revision=revision, check_id="same-as").inputs["same_as"]
    assert inputs[str(world.artists.panel.pk)]["panel"] == model.pk


def test_a_panel_says_what_it_is_the_same_as(world, url, earlier, client_of):
    put(client_of("artist"), url, earlier)
    (pair,) = client_of("reader").get(url).json()["same_as"]
    assert (pair["panel"], pair["page"], pair["order"], pair["state"]) == (earlier.pk, earlier.page_id, 9, "declared")
    artist = client_of("artist")
    artist.delete(f"{url}/same-as/{earlier.pk}", HTTP_IF_MATCH=artist.get(url)["ETag"])
    assert client_of("reader").get(url).json()["same_as"] == []
