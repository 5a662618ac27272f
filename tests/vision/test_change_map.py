"""The word for each panel, where it is known what was changed."""

import numpy as np
import pytest

from board.vision.change_map import PanelChange, change_map
from board.vision.page_registration import register_pages
from board.vision.panel_matching import match_panels
from tests.vision.drawn_stages import (
    FRAMES,
    HEIGHT,
    WIDTH,
    draw_painted,
    draw_pencil,
    drawn_shapes,
    frame_polygons,
    mapped,
    noisy,
    scanned,
    shaded,
    turned,
)

GROWN_DOWN = np.array([[0, 0], [0, 0], [0, 20], [0, 20]])


def changes(before, after, H=None, frames=None) -> list[PanelChange]:
    carried = [mapped(np.eye(3) if H is None else H, polygon) for polygon in frame_polygons()]
    registration = register_pages(before, after)
    return list(change_map(before, after, registration, match_panels(carried, frames or frame_polygons(), registration)))


def words(*args, **kwargs) -> list[str]:
    return [change.word for change in changes(*args, **kwargs)]


@pytest.mark.parametrize("draw", [draw_pencil, draw_painted])
@pytest.mark.parametrize("turn_deg", [-3, 1])
def test_the_same_page_scanned_again_in_bad_light_is_the_same(draw, turn_deg):
    page, H = draw(drawn_shapes(seed=4)), turned(turn_deg, scale=0.95, shift=(7, -9))
    assert words(noisy(shaded(scanned(page, H)), seed=1, sigma=4), page, H) == ["same"] * 4


def test_the_same_pixels_have_not_changed_at_all():
    page = draw_painted(drawn_shapes(seed=4))
    assert [change.change for change in changes(page, page)] == pytest.approx([0] * 4, abs=0.01)


def test_a_panel_drawn_from_scratch_is_redrawn_and_no_other():
    shapes, other = drawn_shapes(seed=4), drawn_shapes(seed=40)
    after = draw_pencil([shapes[0], other[1], shapes[2], shapes[3]])
    assert words(draw_pencil(shapes), after) == ["same", "redrawn", "same", "same"]


def test_shapes_added_to_a_panel_touch_it_and_leave_what_was_there():
    shapes = drawn_shapes(seed=4, per_panel=8)
    more = [shapes[0] + drawn_shapes(seed=40, per_panel=8)[0], *shapes[1:]]
    first = changes(draw_pencil(shapes), draw_pencil(more))[0]
    assert first.word == "touched"
    assert first.kept_before > 0.9 > 0.8 > first.kept_after


def grown(shape, share: float):
    middle = shape.outline.mean(0)
    return type(shape)(middle + (shape.outline - middle) * (1 + share), shape.tone)


@pytest.mark.parametrize("share", [0.14, 0.25])
def test_one_shape_that_grew_touches_its_panel_though_most_of_it_stands(share):
    shapes = drawn_shapes(seed=4, per_panel=8)
    largest = max(range(8), key=lambda k: np.ptp(shapes[0][k].outline, 0).prod())
    other = [grown(one, share) if k == largest else one for k, one in enumerate(shapes[0])]
    first, *rest = changes(draw_pencil(shapes), draw_pencil([other, *shapes[1:]]))
    assert first.word == "touched"
    assert min(first.kept_before, first.kept_after) > 0.75
    assert [change.word for change in rest] == ["same"] * 3


def test_a_speck_and_a_hair_on_the_glass_touch_nothing():
    page = draw_painted(drawn_shapes(seed=4))
    dirty = page.copy()
    # As wide as dust and hair are, where the page is as large as in print.
    dirty[100, 100] = 0
    dirty[160, 200:212] = 120
    assert words(page, dirty) == ["same"] * 4


def test_a_pencil_that_was_painted_over_is_not_called_redrawn():
    shapes = drawn_shapes(seed=4)
    found = changes(shaded(draw_pencil(shapes)), draw_painted(shapes))
    assert all(change.word in ("same", "touched") and change.kept_before > 0.6 for change in found)


def test_a_panel_that_slid_with_its_drawing_is_moved():
    shapes, slide = drawn_shapes(seed=4), np.array([0, -18])
    frames = (FRAMES[0], FRAMES[1], FRAMES[2], (30, 532, 540, 260))
    slid = [type(shape)(shape.outline + slide, shape.tone) for shape in shapes[3]]
    polygons = [*frame_polygons()[:3], frame_polygons()[3] + slide]
    after = draw_pencil([*shapes[:3], slid], frames)
    assert words(draw_pencil(shapes), after, frames=polygons) == ["same", "same", "same", "moved"]


def test_a_panel_that_is_resized_about_its_drawing_is_not_registered_again(monkeypatch):
    shapes = drawn_shapes(seed=4)
    before, after = draw_pencil(shapes), draw_pencil(shapes)
    registration = register_pages(before, after)
    wider = [*frame_polygons()[:3], frame_polygons()[3] + GROWN_DOWN]
    matching = match_panels(frame_polygons(), wider, registration)
    monkeypatch.setattr("board.vision.change_map.map_panel", None)
    assert [change.word for change in change_map(before, after, registration, matching)] == ["same", "same", "same", "touched"]


def test_no_more_panels_are_registered_alone_than_the_limit_allows(monkeypatch):
    alone = []

    def register_alone(older, newer, *, upright):
        alone.append(upright)
        return register_pages(older, newer, upright=upright)

    shapes, other = drawn_shapes(seed=4), drawn_shapes(seed=40)
    before, after = draw_pencil(shapes), draw_pencil([*shapes[:2], *other[2:]])
    registration = register_pages(before, after)
    grown = [*frame_polygons()[:2], *(polygon + GROWN_DOWN for polygon in frame_polygons()[2:])]
    matching = match_panels(frame_polygons(), grown, registration)
    monkeypatch.setattr("board.vision.panel_map.register_pages", register_alone)
    words = [change.word for change in change_map(before, after, registration, matching, most_alone=1)]
    assert (len(alone), words) == (1, ["same", "same", "redrawn", "redrawn"])


def test_panels_that_came_and_went_are_new_and_gone():
    shapes = drawn_shapes(seed=4)
    before, after = draw_pencil(shapes), draw_pencil(shapes)
    before[520:], after[:290] = 255, 255
    registration = register_pages(before, after)
    matching = match_panels(frame_polygons()[:3], frame_polygons()[1:], registration)
    assert sorted(change.word for change in change_map(before, after, registration, matching)) == ["gone", "new", "same", "same"]


@pytest.mark.parametrize("level", [0, 255])
def test_blank_pages_stay_the_same(level):
    blank = np.full((HEIGHT, WIDTH), level, np.uint8)
    assert words(blank, blank) == ["same"] * 4


def test_a_bare_panel_that_was_drawn_in_is_redrawn():
    shapes = drawn_shapes(seed=4)
    assert words(draw_pencil([shapes[0], [], *shapes[2:]]), draw_pencil(shapes)) == ["same", "redrawn", "same", "same"]


def test_a_drawing_that_is_larger_in_its_frame_is_laid_on_by_its_own_map():
    """The page's map keeps to the frames, and calls it redrawn: what is pinned on it would be lost."""
    shapes, middle = drawn_shapes(seed=4, per_panel=40), np.array([300, 680])
    larger = [type(shape)((shape.outline - middle) * 1.2 + middle, shape.tone) for shape in shapes[3]]
    found = changes(draw_pencil(shapes), draw_pencil([*shapes[:3], larger]))
    assert [change.word for change in found] == ["same", "same", "same", "moved"]
    assert found[3].alone is not None and found[3].kept_before > 0.8
    assert found[3].alone.map_points([[330, 640]]) == pytest.approx(np.array([[336, 632]]), abs=1.5)
