"""A panel's still, placed under it by two points of each."""

import pytest

from board.actions.underlays import _panel_as_input
from board.models import Job, PanelShape

POINTS = {"in_still": [[0.25, 0.25], [0.75, 0.75]], "on_page": [[0.2, 0.3], [0.6, 0.7]]}


@pytest.fixture
def url(world) -> str:
    return f"/api/v1/panels/{world.artists.panel.pk}"


@pytest.fixture
def artist(client_of):
    return client_of("artist")


@pytest.fixture
def tied(world, url, artist) -> None:
    artist.put(f"/api/v1/references/{world.reference.pk}/camera", {"yfov_deg": 40.0, "eye_height_m": 1.6})
    artist.put(f"{url}/still", {"reference": world.reference.pk}, HTTP_IF_MATCH="*")


def test_it_is_placed_on_the_version_that_was_read_and_taken_back(url, artist, tied):
    assert artist.put(f"{url}/still/placement", POINTS).status_code == 428
    etag = artist.get(url)["ETag"]
    row = artist.put(f"{url}/still/placement", POINTS, HTTP_IF_MATCH=etag)
    assert row.status_code == 200, row.json()
    place = row.json()["still_place"]
    assert {name: place[name] for name in POINTS} == POINTS
    assert place["by"] == "hand"
    assert artist.put(f"{url}/still/placement", POINTS, HTTP_IF_MATCH=etag).status_code == 412
    freed = artist.delete(f"{url}/still/placement", HTTP_IF_MATCH=row["ETag"])
    assert (freed.status_code, freed.json()["still_place"], freed.json()["still"] is None) == (200, None, False)


def test_where_the_lines_show_nothing_a_grid_takes_the_placed_still(world, url, artist, tied):
    """A level camera has its eye level in the middle of the still, which lies half-way between the two points."""
    artist.put(f"{url}/still/placement", POINTS, HTTP_IF_MATCH="*")
    shape = PanelShape.objects.get(panel=world.artists.panel, revision=world.artists.revision)
    numbers = _panel_as_input(shape, Job(numbers={"panels": []}))["numbers"]
    (x0, y0), (x1, y1) = numbers["eye_level"]
    (wide, high) = shape.revision.picture.width_px, shape.revision.picture.height_px
    across, down = (x1 - x0) * wide, (y1 - y0) * high
    off = abs(across * (0.5 - y0) * high - down * (0.4 - x0) * wide)
    assert off == pytest.approx(0, abs=1e-6)
    assert numbers["focal_px"] > 0
    # Between the two points of the still lies its middle, between those of the page where that is seen.
    assert numbers["centre"] == pytest.approx([0.4, 0.5])


def test_another_still_is_not_where_the_last_one_lay(world, url, artist, tied):
    artist.put(f"{url}/still/placement", POINTS, HTTP_IF_MATCH="*")
    again = artist.put(f"{url}/still", {"reference": world.reference.pk}, HTTP_IF_MATCH="*")
    assert again.json()["still_place"]["in_still"] == POINTS["in_still"]
    assert artist.delete(f"{url}/still", HTTP_IF_MATCH="*").json()["still_place"] is None


@pytest.mark.parametrize("points", [
    {}, {"in_still": POINTS["in_still"]}, {**POINTS, "on_page": [[0.4, 0.4], [0.4, 0.4]]}, {**POINTS, "in_still": [[0.1, 0.1]]},
    {**POINTS, "in_still": [["nan", 0.1], [0.5, 0.5]]}, {**POINTS, "by": "registration"},
], ids=str)
def test_what_places_nothing_is_refused(url, artist, tied, points):
    assert artist.put(f"{url}/still/placement", points, HTTP_IF_MATCH="*").status_code == 400


def test_a_panel_without_a_still_has_none_to_place(url, artist):
    assert artist.put(f"{url}/still/placement", POINTS, HTTP_IF_MATCH="*").status_code == 409


def test_a_still_is_looked_for_in_the_background_and_nothing_is_placed_by_it(url, artist, tied):
    search = f"{url}/still/search"
    assert artist.get(search).status_code == 404
    asked = artist.post(search)
    assert (asked.status_code, asked.json()["state"], asked.json()["on_page"]) == (201, "queued", None)
    Job.objects.filter(kind="still-search").update(state="done", numbers=POINTS)
    assert artist.get(search).json() == {"state": "done", "reason": "", **POINTS}
    assert artist.post(search).json()["state"] == "done"
    assert artist.get(url).json()["still_place"] is None
    by = artist.put(f"{url}/still/placement", POINTS, HTTP_IF_MATCH="*").json()["still_place"]["by"]
    assert by == "registration"


def test_without_a_still_none_is_looked_for(url, artist):
    assert artist.post(f"{url}/still/search").status_code == 409
    assert artist.get(f"{url}/still/search").status_code == 404
