"""Corrections by hand on the page as it stands, while a newer picture waits for its stage."""

import pytest

from board.actions.given_places import given_on
from board.actions.measuring import queue_ready_checks
from board.actions.panels import record_panels
from board.models import Job, Note, PanelShape, Revision
from tests.api.world import ready_revision

LARGER = [[0.05, 0.05], [0.85, 0.05], [0.85, 0.95], [0.05, 0.95]]
EYE_LEVEL = [[0.1, 0.4], [0.9, 0.42]]
POINTS = {"in_still": [[0.25, 0.25], [0.75, 0.75]], "on_page": [[0.2, 0.3], [0.6, 0.7]]}


@pytest.fixture
def waiting(world, cast) -> Revision:
    """A pencil of the page, which stands at its thumbnail: its one panel lies a little further out."""
    waits = ready_revision(cast, world.artists.page, "artist", stage="pencil", shade=90)
    record_panels(revision=waits, found=[{"polygon": LARGER}])
    for revision in (world.artists.revision, waits):
        revision.refresh_from_db()
        Job.objects.filter(revision=revision).update(state="done")
        queue_ready_checks(revision=revision)
    Job.objects.update(state="done")
    return waits


@pytest.fixture
def put(world, client_of):
    url = f"/api/v1/panels/{world.artists.panel.pk}"
    return lambda what, fields: client_of("artist").put(f"{url}/{what}", fields, HTTP_IF_MATCH="*")


def shape_on(world, revision) -> PanelShape:
    return PanelShape.objects.get(panel=world.artists.panel, revision=revision)


def test_an_eye_level_is_of_the_page_as_it_stands_and_goes_along_to_the_one_that_waits(world, waiting, put):
    assert put("perspective", {"eye_level": EYE_LEVEL}).status_code == 200
    shape, later = shape_on(world, world.artists.revision), shape_on(world, waiting)
    assert given_on(shape)["eye_level"] == [pytest.approx(point) for point in EYE_LEVEL]
    assert given_on(later)["eye_level"][0] == pytest.approx([0.05, 0.3875])
    queued = Job.objects.filter(state="queued", check_id="perspective")
    assert set(queued.values_list("revision", flat=True)) == {world.artists.revision.pk, waiting.pk}


@pytest.mark.parametrize(("what", "field", "fields"), [
    ("perspective", "given_perspective", {"eye_level": EYE_LEVEL}),
    ("figure-posts", "figure_posts", {"posts": [{"foot": [0.3, 0.7], "height_m": 1.7}]}),
    ("still/placement", "still_place", POINTS),
])
def test_places_are_of_the_picture_named_else_of_the_page_as_it_stands(world, waiting, put, client_of, what, field, fields):
    put("still", {"reference": world.reference.pk})
    stands = put(what, fields).json()[field]["bounds"]
    named = put(what, {**fields, "revision": waiting.pk}).json()[field]["bounds"]
    assert (stands, named) == ([0.1, 0.1, 0.9, 0.9], [0.05, 0.05, 0.85, 0.95])
    elsewhere = put(what, {**fields, "revision": world.students.revision.pk})
    assert (elsewhere.status_code, elsewhere.json()["detail"]) == (400, "This revision is not one of this page.")
    PanelShape.objects.filter(revision=waiting).delete()
    assert put(what, {**fields, "revision": waiting.pk}).status_code == 400


def test_a_still_is_looked_for_on_the_picture_named_else_on_the_page_as_it_stands(world, waiting, put, client_of):
    put("still", {"reference": world.reference.pk})
    search, artist = f"/api/v1/panels/{world.artists.panel.pk}/still/search", client_of("artist")
    artist.post(search)
    assert Job.objects.get(kind="still-search").revision == world.artists.revision
    assert artist.get(f"{search}?revision={waiting.pk}").status_code == 404
    artist.post(search, {"revision": waiting.pk})
    assert artist.get(f"{search}?revision={waiting.pk}").json()["state"] == "queued"
    assert Job.objects.filter(kind="still-search").count() == 2
    assert artist.get(f"{search}?revision=first").status_code == 400


def test_a_panel_sent_back_is_told_on_the_page_as_it_stands(world, waiting, client_of):
    url = f"/api/v1/panels/{world.artists.panel.pk}/stage-moves"
    answer = client_of("editor").post(url, {"move": "send-back", "to_stage": "thumbnail", "why": "Closer."}, HTTP_IF_MATCH="*")
    assert answer.status_code < 300, answer.json()
    assert Note.objects.get(body="Closer.").revision == world.artists.revision


def test_a_panel_that_the_page_as_it_stands_lacks_is_corrected_where_it_is(world, waiting, put):
    PanelShape.objects.filter(revision=world.artists.revision).delete()
    assert put("perspective", {"eye_level": EYE_LEVEL}).json()["given_perspective"]["bounds"] == [0.05, 0.05, 0.85, 0.95]
