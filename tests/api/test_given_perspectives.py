"""The perspective of a panel, set by hand."""

import pytest

from board.models import Job

EYE_LEVEL = [[0.1, 0.4], [0.9, 0.42]]
EDGES = [[[0.2, 0.2], [0.6, 0.3]], [[0.2, 0.8], [0.6, 0.7]]]


@pytest.fixture
def url(world) -> str:
    return f"/api/v1/panels/{world.artists.panel.pk}"


@pytest.fixture
def put(url, client_of):
    def put(**given):
        etag = client_of("artist").get(url)["ETag"]
        return client_of("artist").put(f"{url}/perspective", given, HTTP_IF_MATCH=etag)

    return put


def perspective_job(world) -> Job:
    return Job.objects.get(revision=world.artists.revision, check_id="perspective")


@pytest.fixture
def measured(world) -> None:
    """The panels are found, so that the perspective check can be queued."""
    revision = world.artists.revision
    Job.objects.filter(revision=revision).update(state="done")
    from board.actions.measuring import queue_ready_checks

    revision.refresh_from_db()
    queue_ready_checks(revision=revision)
    Job.objects.filter(revision=revision).update(state="done")


def test_it_is_set_on_the_version_that_was_read_and_taken_back(url, client_of, put):
    assert client_of("artist").put(f"{url}/perspective", {"eye_level": EYE_LEVEL}).status_code == 428
    row = put(eye_level=EYE_LEVEL, points=[[4.0, 0.45]], parallel_edges=EDGES)
    assert row.status_code == 200
    given = row.json()["given_perspective"]
    assert (given["eye_level"], given["points"], given["parallel_edges"]) == (EYE_LEVEL, [[4.0, 0.45]], EDGES)
    stale = client_of("artist").put(f"{url}/perspective", {"eye_level": EYE_LEVEL}, HTTP_IF_MATCH='"1"')
    assert stale.status_code == 412
    assert client_of("artist").delete(f"{url}/perspective", HTTP_IF_MATCH=row["ETag"]).json()["given_perspective"] is None


def test_it_queues_the_perspective_check_again_and_no_other(world, measured, put):
    others = Job.objects.filter(revision=world.artists.revision).exclude(check_id="perspective")
    put(eye_level=EYE_LEVEL)
    job = perspective_job(world)
    assert job.state == "queued"
    (panel,) = job.inputs["panels"]
    assert panel["given"]["eye_level"] == [pytest.approx(point) for point in EYE_LEVEL]
    assert set(others.values_list("state", flat=True)) == {"done"}


def test_taken_back_the_check_stands_as_before(world, measured, url, client_of, put):
    before = perspective_job(world).digest
    etag = put(eye_level=EYE_LEVEL)["ETag"]
    assert perspective_job(world).digest != before
    client_of("artist").delete(f"{url}/perspective", HTTP_IF_MATCH=etag)
    assert perspective_job(world).digest == before


@pytest.mark.parametrize("given", [
    {}, {"points": []}, {"eye_level": [[0.5, 0.1], [0.5, 0.9]]}, {"eye_level": [[0.5, 0.5], [0.5, 0.5]]},
    {"eye_level": [[0.1, 0.5]]}, {"points": [[1, 2, 3]]}, {"points": [["nan", 0]]}, {"points": [[1e9, 0]]},
    {"points": [[0, 0]] * 4}, {"parallel_edges": [EDGES[0]]},
    {"parallel_edges": [EDGES[0], EDGES[0]]}, {"parallel_edges": [EDGES[0], [[0.3, 0.3], [0.3, 0.3]]]}, {"horizon": EYE_LEVEL},
], ids=str)
def test_what_shows_no_perspective_is_refused(put, given):
    answer = put(**given)
    assert answer.status_code == 400, answer.json()


def test_a_panel_without_a_drawing_has_no_perspective_to_set(cast, client_of):
    row = client_of("editor").post(f"/api/v1/pages/{cast.page.pk}/panels", {"happens": "The gate."}).json()
    answer = client_of("editor").put(f"/api/v1/panels/{row['id']}/perspective", {"eye_level": EYE_LEVEL}, HTTP_IF_MATCH="*")
    assert answer.status_code == 409
