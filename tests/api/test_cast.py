"""The cast and its model sheets."""

import pytest

from board.actions.figure_inputs import figure_inputs
from board.models import Figure, ModelSheet, Picture
from board.models.model_sheet import proportions_on


@pytest.fixture
def artist(client_of):
    return client_of("artist")


def characters(world) -> str:
    return f"/api/v1/boards/{world.cast.board.pk}/characters"


def test_a_character_gets_a_free_letter_of_its_name(world, artist):
    assert world.character.key == "i"
    row = artist.post(characters(world), {"name": "Iris", "height_m": 1.2, "age_band": "child"}).json()
    assert (row["key"], row["height_m"], row["age_band"], row["head_count"]) == ("r", 1.2, "child", None)


REFUSED = [
    ({"name": "Ines"}, 409), ({"name": "Iris", "key": "i"}, 409), ({"name": "Iris", "key": "É"}, 400), ({"name": ""}, 400),
    ({"name": "Iris", "height_m": 0}, 400), ({"name": "Iris", "height_m": "nan"}, 400), ({"name": "Iris", "preset": "giant"}, 400),
    ({"name": "Iris", "age_band": "baby"}, 400), ({"name": "Iris", "weight": 3}, 400),
]


def test_what_is_no_character_is_refused(world, artist):
    for fields, status in REFUSED:
        assert artist.post(characters(world), fields).status_code == status, fields


def test_the_head_count_comes_from_the_sheet_in_its_own_pixels(world, artist):
    """Crown .3, chin .4, soles .8 of one height: the head goes five times into the figure."""
    row = artist.get(f"/api/v1/characters/{world.character.pk}").json()
    assert row["head_count"] == pytest.approx(5.0)
    assert row["segments"]["chin-height"] == pytest.approx(0.8)
    assert row["sheets"][0]["reference"]["id"] == world.reference.pk


def test_how_many_figures_would_go_with_a_character_is_known_before(world, artist):
    row = artist.get(f"/api/v1/characters/{world.character.pk}").json()
    assert row["figures"] == Figure.objects.filter(character=world.character).count() > 1
    assert artist.post(characters(world), {"name": "Iris"}).json()["figures"] == 0


def test_a_later_version_of_the_sheet_holds_from_its_page(world, artist):
    url = f"/api/v1/characters/{world.character.pk}"
    later = {"crown": [0.4, 0.0], "chin": [0.4, 0.25], "sole": [0.4, 1.0]}
    assert artist.post(f"{url}/sheets", {"reference": world.reference.pk, "from_page": 2, "landmarks": later}).status_code == 201
    assert artist.get(url).json()["head_count"] == pytest.approx(4.0)
    sheets = ModelSheet.objects.filter(character=world.character).select_related("reference__picture")
    assert [proportions_on(sheets, page).head_count for page in (1, 2)] == [pytest.approx(5.0), pytest.approx(4.0)]


def test_who_grows_is_as_tall_on_each_page_as_the_sheet_that_holds_there(world, artist):
    """Else every figure from there on would be told as too tall. A sheet that says no height lets the one before it go on."""
    url = f"/api/v1/characters/{world.character.pk}"
    on_sheets = ((13, {"height_m": 1.9}), (15, {}))
    grown, last = ({"reference": world.reference.pk, "from_page": page, **said} for page, said in on_sheets)
    assert [artist.post(f"{url}/sheets", fields).status_code for fields in (grown, last)] == [201, 201]
    sizes = artist.get(url).json()["sizes"]
    was_m = world.character.height_m
    assert [(one["from_page"], one["height_m"]) for one in sizes] == [(1, was_m), (13, 1.9), (15, 1.9)]
    page, revision = world.artists.page, world.artists.revision
    measured = []
    for number in (12, 13, 16):
        page.number = revision.page.number = number
        page.save(update_fields=["number"])
        (figure,) = figure_inputs(revision, "heights")["figures"]
        measured.append(figure["character"]["height_m"])
    assert measured == [was_m, 1.9, 1.9]


def test_a_sheet_that_is_not_marked_yet_takes_no_other_sheets_place(world, artist):
    url = f"/api/v1/characters/{world.character.pk}"
    artist.post(f"{url}/sheets", {"reference": world.reference.pk, "from_page": 2})
    assert artist.get(url).json()["head_count"] == pytest.approx(5.0)
    sheets = ModelSheet.objects.filter(character=world.character).select_related("reference__picture")
    assert proportions_on(sheets, 2).head_count == pytest.approx(5.0)


def test_the_width_of_a_head_seen_from_the_side_is_its_depth(world, artist):
    Picture.objects.filter(pk=world.reference.picture_id).update(width_px=100, height_px=100)
    sheet = {"crown": [0.5, 0.0], "chin": [0.5, 0.2], "sole": [0.5, 1.0], "head-left": [0.42, 0.1], "head-right": [0.6, 0.1]}
    url = f"/api/v1/characters/{world.character.pk}"
    artist.post(f"{url}/sheets", {"reference": world.reference.pk, "view": "side", "landmarks": sheet})
    segments = artist.get(url).json()["segments"]
    assert segments["head-depth"] == pytest.approx(0.9)
    assert "head-width" not in segments


def test_what_is_no_landmark_is_refused(world, artist):
    for landmarks in ({"nose": [0, 0]}, {"crown": [0, 2]}, {"crown": "top"}, []):
        answer = artist.patch(f"/api/v1/model-sheets/{world.model_sheet.pk}", {"landmarks": landmarks}, HTTP_IF_MATCH="*")
        assert answer.status_code == 400, landmarks


def test_presets_name_their_source(artist):
    rows = artist.get("/api/v1/presets").json()
    assert len(rows) > 10
    assert all(row["source"] for row in rows)
