"""Figures marked on a picture, and what they make be measured."""

import pytest

from board.actions.measuring import queue_ready_checks
from board.models import FigurePlace, Job, Panel
from tests.api.world import MARKS


@pytest.fixture
def artist(client_of):
    return client_of("artist")


@pytest.fixture
def url(world) -> str:
    return f"/api/v1/revisions/{world.artists.revision.pk}/figures"


@pytest.fixture
def one(world) -> str:
    return f"/api/v1/figures/{world.artists.figure.pk}"


@pytest.fixture
def measured(world) -> None:
    """All that can be queued was, and is done; the perspective check found an eye level."""
    revision, panel = world.artists.revision, world.artists.panel
    numbers = {"panels": [{"panel": panel.pk, "eye_level": [[0.1, 0.4], [0.9, 0.4]], "vanishing_points": []}]}
    revision.refresh_from_db()
    for _ in range(3):
        Job.objects.filter(revision=revision).update(state="done")
        Job.objects.filter(revision=revision, check_id="perspective").update(numbers=numbers)
        queue_ready_checks(revision=revision)
    Job.objects.filter(revision=revision).update(state="done")


def job(world, check: str = "heights") -> Job:
    return Job.objects.get(revision=world.artists.revision, check_id=check)


def test_a_figure_belongs_to_the_panel_that_it_stands_in(world, artist, url):
    row = artist.post(url, {"character": world.character.pk, "marks": MARKS}).json()
    assert (row["panel"], row["pose"], row["placed_by"], row["marks"]) == (world.artists.panel.pk, "standing", "hand", MARKS)
    outside = {"crown": [0.02, 0.01], "sole": [0.02, 0.05]}
    assert artist.post(url, {"character": world.character.pk, "marks": outside}).json()["panel"] is None


def test_a_mark_that_stays_where_it_was_stays_as_sure_as_it_was(world, artist, url):
    doubts = {"crown": 0.002, "sole": 0.003, "knee": 1}  # the knee is not marked
    marked = artist.post(url, {"character": world.character.pk, "marks": MARKS, "doubts": doubts})
    assert marked.json()["doubts"] == {"crown": 0.002, "sole": 0.003}
    one, moved = f"/api/v1/figures/{marked.json()['id']}", {**MARKS, "crown": [0.41, 0.31], "chin": [0.4, 0.4]}
    changed = artist.patch(one, {"marks": moved, "doubts": {"chin": 0.0005}}, headers={"If-Match": marked["ETag"]})
    assert changed.json()["doubts"] == {"sole": 0.003, "chin": 0.0005}


REFUSED = [
    {"marks": {"crown": [0.4, 0.3]}}, {"marks": {"crown": [0.4, 0.3], "sole": [0.4, 0.3]}}, {"character": 10**6}, {"panel": 10**6},
    {"doubts": {"crown": -1}},
    {"pose": "flying"}, {"ground_offset_m": "inf"}, {"marks": {"crown": [0.4, 0.3], "sole": [0.4, 3]}}, {"marks": None},
]


def test_what_cannot_be_measured_is_refused(world, artist, url):
    for fields in REFUSED:
        assert artist.post(url, {"character": world.character.pk, "marks": MARKS, **fields}).status_code == 400, fields


def test_the_checks_get_the_marks_the_cast_and_the_eye_level(world, measured):
    inputs = job(world).inputs
    (figure,), (seen,) = inputs["figures"], inputs["perspective"]["panels"]
    assert (figure["marks"], figure["character"]["height_m"], figure["character"]["head_count"]) == (MARKS, 1.7, pytest.approx(5))
    assert (seen["panel"], seen["eye_level"]) == (world.artists.panel.pk, [[0.1, 0.4], [0.9, 0.4]])


def test_where_the_lines_show_nothing_the_still_of_the_panel_is_taken(world, measured, artist):
    """A level camera that looks at the middle of its picture, which is as wide to its height as the panel is."""
    reference, panel = f"/api/v1/references/{world.reference.pk}", f"/api/v1/panels/{world.artists.panel.pk}"
    artist.put(f"{reference}/camera", {"yfov_deg": 40.0, "eye_height_m": 1.6})
    artist.put(f"{panel}/still", {"reference": world.reference.pk}, HTTP_IF_MATCH="*")
    Job.objects.filter(revision=world.artists.revision, check_id="perspective").update(numbers={"panels": []})
    queue_ready_checks(revision=world.artists.revision)
    inputs = job(world).inputs
    assert inputs["eye_heights"] == {str(world.artists.panel.pk): 1.6}
    (seen,) = inputs["perspective"]["panels"]
    assert seen["eye_level"] == [[pytest.approx(0.1), pytest.approx(0.5)], [pytest.approx(0.9), pytest.approx(0.5)]]
    assert seen["focal_px"] == pytest.approx(0.8 * 60 / 2 / 0.36397, rel=1e-4)


@pytest.mark.parametrize("change", ["marks", "pose", "height", "sheet", "removal"])
def test_what_a_figure_is_measured_by_queues_the_check_again(world, measured, artist, one, change):
    url, body = {
        "marks": (one, {"marks": {**MARKS, "crown": [0.4, 0.31]}}), "pose": (one, {"pose": "seated"}),
        "height": (f"/api/v1/characters/{world.character.pk}", {"height_m": 1.8}),
        "sheet": (f"/api/v1/model-sheets/{world.model_sheet.pk}", {"landmarks": {**MARKS, "chin": [0.4, 0.45]}}),
        "removal": (one, None),
    }[change]
    before, other = job(world).digest, job(world, "perspective").digest
    answer = artist.delete(one) if body is None else artist.patch(url, body, HTTP_IF_MATCH="*")
    assert answer.status_code < 300
    assert (job(world).state, job(world).digest == before, job(world, "perspective").digest) == ("queued", False, other)


def test_a_name_or_a_key_alone_leaves_proportions_measured(world, measured, artist):
    artist.patch(f"/api/v1/characters/{world.character.pk}", {"key": "x"}, HTTP_IF_MATCH="*")
    assert job(world, "proportions").state == "done"


def test_a_picture_without_figures_is_not_asked_for_heights(world, measured, artist, one):
    Job.objects.filter(check_id__in=["heights", "proportions"]).delete()
    artist.delete(one)
    queue_ready_checks(revision=world.artists.revision)
    assert not Job.objects.filter(revision=world.artists.revision, check_id__in=["heights", "proportions"]).exists()
    checks = artist.get(f"/api/v1/revisions/{world.artists.revision.pk}").json()["checks"]
    assert {check["check"] for check in checks} == {"panels", "perspective", "reuse"}


def test_lost_marks_are_told_by_their_panel_and_are_the_same_figure_when_they_are_made_again(world, artist, url):
    lost, revision = world.artists.figure, world.artists.revision
    FigurePlace.objects.filter(figure=lost).update(placed_by="lost", marks={}, reason="It was drawn anew.")
    read = f"/api/v1/revisions/{revision.pk}"
    assert artist.get(read).json()["figures_lost"] == [world.artists.panel.pk]
    elsewhere = {"crown": [0.02, 0.01], "sole": [0.02, 0.05]}
    assert artist.post(url, {"character": world.character.pk, "marks": elsewhere}).json()["id"] != lost.pk
    again = artist.post(url, {"character": world.character.pk, "marks": MARKS, "pose": "seated"}).json()
    assert (again["id"], again["placed_by"], again["pose"], again["reason"]) == (lost.pk, "hand", "seated", "")
    assert again["version"] == lost.version + 1
    assert artist.get(read).json()["figures_lost"] == []
    assert artist.post(url, {"character": world.character.pk, "marks": MARKS}).json()["id"] != lost.pk


def test_changes_name_the_version_they_were_made_on(world, artist, one):
    etag = artist.get(one)["ETag"]
    assert artist.patch(one, {"view": "front"}).status_code == 428
    assert artist.patch(one, {"view": "front"}, HTTP_IF_MATCH=etag).json()["view"] == "front"
    assert artist.patch(one, {"view": "back"}, HTTP_IF_MATCH=etag).status_code == 412


def test_a_figure_goes_with_its_character_and_outlives_its_panel(world, artist, one):
    Panel.objects.filter(pk=world.artists.panel.pk).delete()
    assert artist.get(one).json()["panel"] is None
    artist.delete(f"/api/v1/characters/{world.character.pk}")
    assert artist.get(one).status_code == 404
