"""Figure posts are kept with their panel, and stand as tall as the cast has them."""

import pytest

from board.actions.figure_posts import eye_height_on, posts_on
from board.actions.model_sheets import add_model_sheet
from board.models import Character
from board.page_space import bounds, middle_of


@pytest.fixture
def panel(world):
    return world.artists.panel


@pytest.fixture
def pim(world) -> Character:
    return Character.objects.create(board=world.cast.board, name="Pim", key="m", height_m=1.42)


@pytest.fixture
def shape(panel):
    return panel.shapes.order_by("-revision__number").first()


@pytest.fixture
def put(panel, client_of):
    def put(*posts, **fields):
        url, client = f"/api/v1/panels/{panel.pk}", client_of("artist")
        etag = client.get(url)["ETag"]
        return client.put(f"{url}/figure-posts", {"posts": list(posts), **fields}, HTTP_IF_MATCH=etag)

    return put


def foot_in(shape) -> list[float]:
    return list(middle_of({"polygon": shape.polygon}))


def test_a_post_is_as_tall_as_its_character_now(put, pim, panel, shape):
    foot = foot_in(shape)
    answer = put({"foot": foot, "character": pim.pk}, {"foot": foot, "height_m": 2.0, "name": "door"}, eye_height_m=1.6)
    assert answer.status_code == 200
    assert answer.json()["figure_posts"]["eye_height_m"] == 1.6
    Character.objects.filter(pk=pim.pk).update(height_m=1.5)
    shape.panel.refresh_from_db()
    assert [(post["name"], post["height_m"]) for post in posts_on(shape)] == [("Pim", 1.5), ("door", 2.0)]
    assert eye_height_on(shape) == 1.6
    Character.objects.filter(pk=pim.pk).delete()
    assert [post["name"] for post in posts_on(shape)] == ["door"]
    assert put().json()["figure_posts"] is None


def test_a_post_has_as_many_heads_as_the_sheet_that_holds_on_its_page(put, world, panel, shape, client_of):
    """A later sheet is of later pages: marked figures here are not held against it either."""
    who, later = world.character, {"crown": [0.4, 0.0], "chin": [0.4, 0.25], "sole": [0.4, 1.0]}
    Character.objects.filter(pk=who.pk).update(height_m=1.6)
    put({"foot": foot_in(shape), "character": who.pk})
    shape.panel.refresh_from_db()
    add_model_sheet(seat=world.cast.seat("artist"), character=who, reference=world.reference.pk, from_page=panel.page.number + 1,
                    landmarks=later)
    assert [post["heads"] for post in posts_on(shape)] == [pytest.approx(5.0)]
    sizes = client_of("artist").get(f"/api/v1/characters/{who.pk}").json()["sizes"]
    assert [(one["from_page"], one["head_count"]) for one in sizes] == [(1, pytest.approx(5.0)), (2, pytest.approx(4.0))]


def test_posts_go_along_with_a_panel_that_is_drawn_elsewhere(put, shape):
    put({"foot": foot_in(shape), "height_m": 2.0})
    shape.panel.refresh_from_db()
    left, top, right, bottom = bounds(shape.polygon)
    shape.polygon = [[x / 2 + 0.1, y / 2 + 0.2] for x, y in ((left, top), (right, top), (right, bottom), (left, bottom))]
    assert posts_on(shape)[0]["foot"] == pytest.approx(middle_of({"polygon": shape.polygon}))


def test_a_post_that_the_frame_cuts_off_stands_below_its_panel(put, shape):
    """The panel reaches down to .9 of the page, and is .8 high."""
    assert put({"foot": [0.5, 1.6], "height_m": 1.7}).status_code == 200
    shape.panel.refresh_from_db()
    assert posts_on(shape)[0]["foot"] == pytest.approx([0.5, 1.6])
    assert put({"foot": [0.5, 2.5], "height_m": 1.7}).status_code == 400


def test_what_cannot_stand_is_refused_with_a_sentence(put, pim, shape):
    foot = foot_in(shape)
    for post, why in (
        ({"foot": [0.5, 0.05], "height_m": 2.0}, "in its panel, or beyond the frame"),
        ({"foot": [0.5, 1.75], "height_m": 2.0}, "in its panel, or beyond the frame"),
        ({"foot": foot}, "name one of the two"),
        ({"foot": foot, "character": pim.pk, "height_m": 2.0}, "name one of the two"),
        ({"foot": foot, "character": 10**6}, "no such character"),
    ):
        answer = put(post)
        assert (answer.status_code, why in answer.json()["detail"]) == (400, True), answer.json()
    Character.objects.filter(pk=pim.pk).update(height_m=None)
    assert "no height" in put({"foot": foot, "character": pim.pk}).json()["detail"]
