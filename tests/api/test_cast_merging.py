"""Two names for one character become one: nothing that was marked under either is lost."""

import pytest

from board.actions.boards import create_board
from board.actions.measuring import queue_ready_checks
from board.models import Character, Event, Figure, Job, ModelSheet
from board.models.model_sheet import proportions_on
from tests.api.world import MARKS

ELSEWHERE = {"crown": [0.2, 0.3], "chin": [0.2, 0.35], "sole": [0.2, 0.8]}
FOUR_HEADS = {"crown": [0.4, 0.0], "chin": [0.4, 0.25], "sole": [0.4, 1.0]}


@pytest.fixture
def artist(client_of):
    return client_of("artist")


@pytest.fixture
def other(world) -> Character:
    return Character.objects.create(board=world.cast.board, name="Ines of the mill", key="8", age_band="youth")


@pytest.fixture
def merge(world, artist):
    return lambda other: artist.post(f"/api/v1/characters/{world.character.pk}/mergings", {"character": other})


def test_figures_posts_and_measures_go_over_and_what_is_measured_is_measured_again(world, artist, other, merge):
    on, kept = world.artists, world.character
    url = f"/api/v1/revisions/{on.revision.pk}/figures"
    marked = artist.post(url, {"character": other.pk, "marks": ELSEWHERE}).json()
    posts = [{"foot": [0.4, 0.5], "character": kept.pk}, {"foot": [0.5, 0.5], "height_m": 2.0}]
    posts.append({"foot": [0.6, 0.5], "character": other.pk})
    on.panel.figure_posts = {"posts": posts, "eye_height_m": 1.6, "bounds": [0, 0, 1, 1]}
    on.panel.save(update_fields=["figure_posts"])
    on.revision.refresh_from_db()
    for _ in range(3):
        queue_ready_checks(revision=on.revision)
        Job.objects.filter(revision=on.revision).update(state="done")
    row = merge(other.pk).json()
    assert (row["id"], row["name"], row["height_m"], row["age_band"]) == (kept.pk, "Ines", 1.7, "youth")
    moved = Figure.objects.get(pk=marked["id"])
    assert (moved.character_id, moved.version) == (kept.pk, marked["version"] + 1)
    assert moved.places.get(revision=on.revision).marks == ELSEWHERE
    was = on.panel.version
    on.panel.refresh_from_db()
    assert [post.get("character") for post in on.panel.figure_posts["posts"]] == [kept.pk, None, kept.pk]
    assert (on.panel.version, on.panel.figure_posts["eye_height_m"]) == (was + 1, 1.6)
    assert Job.objects.get(check_id="proportions", revision=on.revision).state == "queued"
    assert artist.get(f"/api/v1/characters/{other.pk}").status_code == 404
    assert Event.objects.filter(board=world.cast.board, kind="characters-merged").count() == 1


def test_a_figure_that_was_marked_under_both_names_is_one_with_the_marks_of_both(world, artist, other, merge):
    """Else two marks of one figure would outvote a third one that is right."""
    on, url = world.artists, f"/api/v1/revisions/{world.artists.revision.pk}/figures"
    nearly = {"crown": [0.41, 0.3], "chin": [0.41, 0.38], "sole-left": [0.39, 0.8], "sole-right": [0.42, 0.8], "knee": [0.4, 0.66]}
    twice = artist.post(url, {"character": other.pk, "marks": nearly, "doubts": {"knee": 0.002}}).json()
    beside = artist.post(url, {"character": other.pk, "marks": ELSEWHERE}).json()
    assert merge(other.pk).status_code == 201
    left = Figure.objects.filter(page=on.page, character=world.character).values_list("pk", flat=True)
    assert set(left) == {on.figure.pk, beside["id"]} and twice["id"] not in left
    place = on.figure.places.get(revision=on.revision)
    assert (place.marks, place.doubts) == ({**MARKS, "knee": [0.4, 0.66]}, {"knee": 0.002})


def test_of_two_sheets_from_one_page_the_kept_ones_own_goes_on_holding(world, artist, other, merge):
    fields = {"reference": world.reference.pk, "landmarks": FOUR_HEADS}
    for page in (1, 7):
        assert artist.post(f"/api/v1/characters/{other.pk}/sheets", {**fields, "from_page": page}).status_code == 201
    assert merge(other.pk).status_code == 201
    sheets = ModelSheet.objects.filter(character=world.character).select_related("reference__picture")
    assert [(one.from_page, one.landmarks) for one in sheets] == [(1, FOUR_HEADS), (1, MARKS), (7, FOUR_HEADS)]
    assert [proportions_on(sheets, page).head_count for page in (1, 7)] == [pytest.approx(5.0), pytest.approx(4.0)]


def test_only_another_character_of_the_board_goes_over(world, merge):
    of_another = Character.objects.create(board=create_board(user=world.cast.owner, title="Another"), name="Pim", key="p")
    for nobody in (world.character.pk, of_another.pk, 10**6):
        assert merge(nobody).status_code == 400
    assert Character.objects.filter(pk__in=(world.character.pk, of_another.pk)).count() == 2
